import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { formatMoney } from "../../../src/rules/currency.ts";
import { firstPolicy, type Policy } from "../../../src/rules/policy/policy.ts";
import { cardFeeExample } from "../../../src/rules/policy/words/card-fee.ts";
import { roundingExample } from "../../../src/rules/policy/words/fees.ts";
import {
  changeText,
  policyChanges,
  policyWords,
} from "../../../src/rules/policy/words/policy-words.ts";
import { policies } from "./support.ts";

const money = (amount: number) => formatMoney(amount, "USD", "en-US");
const spoken = (policy: Policy) =>
  Object.fromEntries(policyWords(policy, money).map(({ title, sentences }) => [title, sentences]));

// Percentages and fees of several weavers' guilds' printed sale rules, put together in one policy:
// 20 % ordinary, 30 % without a shift, 10 % for the committee, 15 % for visitors, an entry fee of
// 20 or 10 for newcomers; price less share up to 200 and half above for a lost piece.
const published: Policy = {
  ...firstPolicy(30_000),
  rates: {
    ...{ ordinary: 30_000, visitor: 15_000, committee: 10_000 },
    classes: [{ code: "honorary", name: "Honorary members", rate: 0 }],
    kinds: [{ kind: "yarn", name: "Yarn", rate: 12_500, visitorsToo: false }],
    hours: [
      { fromMinutes: 120, rate: 20_000 },
      { fromMinutes: 360, rate: 12_000 },
    ],
  },
  fees: { entry: 2_000, firstEntry: 1_000, late: 50, lateFor: "item", missedShift: 2_500 },
  cardFee: { way: "charged", rate: 2_900, fixed: 30 },
  loss: { rule: "capped", cap: 20_000, aboveCap: 50_000 },
  payout: {
    minimum: 500,
    tenders: [
      { method: "cash", upTo: 2_000 },
      { method: "cheque", upTo: null },
    ],
  },
};

describe("a policy in whole sentences", () => {
  test("everything that printed rules of guilds ask for is said", () => {
    expect(spoken(published)).toEqual({
      "The guild's percentage": [
        "Yarn: 12.5 %, but not from visitors.",
        "Sold by a visitor: 15 %.",
        "On the committee: 10 %.",
        "Honorary members: 0 %.",
        "Under 2 hours of work: 30 %.",
        "2 to 6 hours of work: 20 %.",
        "6 hours of work or more: 12 %.",
        "Where several of these fit, the one that stands first here holds.",
        "What is given to the guild is all the guild's.",
      ],
      Fees: [
        "Entry fee: $20.00 for each member who enters anything.",
        "Entry fee of those who sell for the first time: $10.00.",
        "Late fee: $0.50 for each item entered after the deadline.",
        "Missed shift: $25.00 for each shift promised and missed.",
      ],
      "Card fee": [
        "Members bear the card fee as the terminal charges it: on price and tax, with the fixed amount of each receipt.",
        "Until the bank's statement is known, the fee is taken as 2.9 % and $0.30 for each receipt.",
      ],
      "Pieces that get lost": [
        "For a missing piece the guild pays its price less the guild's percentage: in full up to $200.00, and 50 % of what lies above.",
      ],
      "How members are paid": [
        "The guild pays in cash up to $20.00, or by cheque.",
        "The first that fits the amount pays, unless a member asks for another.",
        "Less than $5.00 is kept for the member and paid with the next sale.",
        "Who owes the guild more than was sold carries it to the next sale.",
      ],
      Rounding: [
        "The guild's part is rounded for each line by itself; half of the smallest coin counts as a whole one.",
      ],
    });
  });

  test("one percentage and nothing else is said in a few words", () => {
    expect(spoken(firstPolicy(20_000))).toMatchObject({
      "The guild's percentage": [
        "The guild keeps 20 % of the price of each piece.",
        "What is given to the guild is all the guild's.",
      ],
      Fees: ["There are no fees."],
      "Card fee": ["The guild bears the card fee; members see nothing of it."],
    });
  });

  test("the card fee in four ways, worked out by hand", () => {
    // 100.00 and 8.00 tax: 3 % of 100.00 is 3.00, 3 % of 108.00 and 0.30 is 3.54; 97.00 less 20 %.
    const ends = [
      ["guild", "the fee is $3.00; of 20 % the guild has $20.00 and the member $80.00."],
      ["price", "the fee is $3.00; of 20 % the guild has $20.00 and the member $77.00."],
      ["charged", "the fee is $3.54; of 20 % the guild has $20.00 and the member $76.46."],
      ["before-share", "the fee is $3.00; of 20 % the guild has $19.40 and the member $77.60."],
    ] as const;
    for (const [way, end] of ends) expect(cardFeeExample(way, money)).toContain(end);
  });

  test("five pieces of 4.50 at 15 % are 3.40 by lines and 3.38 in all", () => {
    // Published table of commission per line and per total; recomputed with exact fractions.
    expect(roundingExample).toEqual({ pieces: 5, price: 450, line: 340, statement: 338 });
  });
});

describe("what changed", () => {
  test("only what reads differently is told, with what it was", () => {
    const now = { ...published, fees: { ...published.fees, entry: 2_500 } };
    const changes = policyChanges(published, now, money);
    expect(changes).toEqual([
      {
        title: "Fees",
        before: ["Entry fee: $20.00 for each member who enters anything."],
        now: ["Entry fee: $25.00 for each member who enters anything."],
      },
    ]);
    expect(changes.map(changeText)).toEqual([
      "Fees. Now: Entry fee: $25.00 for each member who enters anything. Before: Entry fee: $20.00 for each member who enters anything.",
    ]);
  });

  test("a policy does not differ from itself, and going back tells the same the other way round", () => {
    fc.assert(
      fc.property(policies, policies, (one, other) => {
        expect(policyChanges(one, one, money)).toEqual([]);
        const there = policyChanges(one, other, money);
        const back = policyChanges(other, one, money);
        expect(back).toEqual(
          there.map(({ title, before, now }) => ({ title, before: now, now: before })),
        );
        for (const { sentences } of policyWords(one, money))
          for (const sentence of sentences) expect(sentence).toMatch(/\.$/);
      }),
    );
  });
});
