import { expect, test } from "vitest";
import { firstPolicy } from "../../src/rules/policy/policy.ts";
import { statementNotes } from "../../src/rules/statement.ts";

const policy = firstPolicy(22_500);
const plain = {
  policy,
  ...{ gross: 7_019, net: 5_440, carried: 0, due: 5_440, donated: 0 },
  payWhy: "paid" as const,
  payMethod: "cheque" as const,
  hasReturns: false,
  hasCardFee: false,
  currency: "USD",
  locale: "en-US",
};

test("an ordinary statement explains the rounding and the payment, and nothing that is not there", () => {
  const notes = statementNotes(plain);
  expect(notes).toHaveLength(2);
  expect(notes[0]).toMatch(/for each line.*nearest coin, half a coin up/);
  expect(notes[0]).toContain("without sales tax");
  expect(notes[1]).toBe("$54.40 is to be paid to you by cheque.");
});

test("each way of rounding is told apart", () => {
  const told = (["line", "statement"] as const).flatMap((basis) =>
    (["up", "even"] as const).map((halves) => {
      const rounding = { basis, halves };
      return statementNotes({ ...plain, policy: { ...policy, rounding } })[0];
    }),
  );
  expect(new Set(told).size).toBe(4);
  expect(told[3]).toMatch(/added up exactly and rounded once.*to the even one/);
});

test("each way of sharing the card fee is told apart, and only where there is a fee", () => {
  const told = (["price", "charged", "before-share"] as const).map((way) => {
    const cardFee = { way, rate: 2_900, fixed: 30 };
    return statementNotes({ ...plain, policy: { ...policy, cardFee }, hasCardFee: true })[1];
  });
  expect(new Set(told).size).toBe(3);
  expect(told[1]).toContain("the fixed amount of each receipt");
});

test("returns, donations and a debt are each explained with their figure", () => {
  const given = { ...plain, gross: -2_000, net: -1_599, due: 0, donated: 1_235, hasReturns: true };
  const notes = statementNotes({ ...given, payWhy: "owed-by-member", payMethod: null });
  expect(notes).toHaveLength(4);
  expect(notes.join(" ")).toMatch(/minus.*\$12\.35.*\$15\.99 is owed to the guild/s);
});

test("a balance carried from before, and one that is held now, add up in words", () => {
  const minimum = { ...policy, payout: { ...policy.payout, minimum: 1_000 } };
  const held = { ...plain, policy: minimum, net: 250, carried: 420, due: 0 };
  const notes = statementNotes({ ...held, payWhy: "below-minimum", payMethod: null });
  expect(notes[1]).toBe(
    "$4.20 was left unpaid by your statement before and is added: $2.50 of this statement makes $6.70.",
  );
  expect(notes[2]).toMatch(/amounts from \$10\.00\. \$6\.70 stays yours/);
  const owing = statementNotes({ ...plain, net: 900, carried: -500, due: 400 });
  expect(owing[1]).toMatch(/\$5\.00 was owed.*taken off: \$9\.00 of this statement makes \$4\.00/);
});

test("nothing sold and nothing to pay is said without a word on rounding", () => {
  const nothing = { ...plain, gross: 0, net: 0, due: 0, payMethod: null };
  expect(statementNotes({ ...nothing, payWhy: "nothing-due" })).toEqual([
    "Nothing is to be paid out for this statement.",
  ]);
});
