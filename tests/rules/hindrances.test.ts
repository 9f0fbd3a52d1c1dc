import { describe, expect, test } from "vitest";
import type { HindranceFacts } from "../../src/rules/hindrances/hindrance.ts";
import { hindrancesIn } from "../../src/rules/hindrances/hindrances.ts";
import { firstPolicy } from "../../src/rules/policy/policy.ts";

const money = (amount: number) => `$${amount / 100}`;
const clear: HindranceFacts = {
  saleId: "s",
  settling: true,
  suspense: { lines: 0, amount: 0 },
  soldTwice: [],
  floor: { pieces: 0, members: 0 },
  devices: [],
  openTills: [],
  drawers: [],
  shifts: { count: 0, members: [] },
  wishes: [],
  policy: firstPolicy(20_000),
};
const told = (more: Partial<HindranceFacts>) => hindrancesIn({ ...clear, ...more }, money);
const withPolicy = (change: (policy: HindranceFacts["policy"]) => void) => {
  const policy = structuredClone(clear.policy);
  change(policy);
  return policy;
};

test("nothing stands in the way of a sale that is in order", () => {
  expect(told({})).toEqual([]);
});

describe("what must be done first", () => {
  test("tills that keep something, by number and device", () => {
    const [one] = told({ devices: [{ till: 2, device: "Red phone", unsent: 3, lost: false }] });
    expect(one).toMatchObject({ kind: "unsent", must: true, count: 3 });
    expect(one?.words).toContain("Till 2 (Red phone) still keeps 3 entries");
  });

  test("each open till, with the way to its cash-up", () => {
    const two = told({ openTills: ["a", "b"].map((id, index) => ({ id, number: index + 1 })) });
    expect(two.map(({ must, action }) => [must, action.href])).toEqual([
      [true, "/till/a/cash-up"],
      [true, "/till/b/cash-up"],
    ]);
  });

  test("a class of members that the policy does not have, and a policy that cannot be used", () => {
    const wishes = [{ member: 104, classCode: "honorary", payMethod: null }];
    expect(told({ wishes })).toMatchObject([
      {
        kind: "member-class",
        must: true,
        words:
          "Member 104 (honorary) is in a class of members that the policy of this sale does not have.",
      },
    ]);
    const known = withPolicy((policy) => {
      policy.rates.classes = [{ code: "honorary", name: "Honorary", rate: 10_000 }];
    });
    expect(told({ wishes, policy: known })).toEqual([]);
    const broken = withPolicy((policy) => {
      policy.payout.tenders = [{ method: "cash", upTo: 5_000 }];
    });
    expect(told({ policy: broken })).toMatchObject([{ kind: "policy", must: true }]);
  });

  test.each([
    ["nothing depends on them", () => undefined, false],
    [
      "the percentage goes by hours",
      (policy: HindranceFacts["policy"]) => {
        policy.rates.hours = [{ fromMinutes: 120, rate: 15_000 }];
      },
      true,
    ],
    [
      "a missed shift has a fee",
      (policy: HindranceFacts["policy"]) => {
        policy.fees.missedShift = 500;
      },
      true,
    ],
  ])("shifts without a tick when %s", (_when, change, must) => {
    const [one] = told({ shifts: { count: 6, members: [101, 104] }, policy: withPolicy(change) });
    expect(one).toMatchObject({ kind: "shifts", must, count: 6 });
    expect(one?.words).toContain("6 shifts have no tick yet, of members 101 and 104.");
  });
});

describe("what had better be done first", () => {
  test("lines and pieces, with the page that mends each", () => {
    const all = told({
      suspense: { lines: 2, amount: 4_500 },
      soldTwice: [{ lineId: "l", tag: "10401257", description: "Scarf" }],
      floor: { pieces: 12, members: 5 },
    });
    expect(all.every(({ must }) => !must)).toBe(true);
    expect(all.map(({ kind, action }) => [kind, action.href])).toEqual([
      ["sold-twice", "/books/s/suspense?line=l#line-l"],
      ["suspense", "/books/s/suspense"],
      ["on-floor", "/desk/s/missing"],
    ]);
    expect(all.map(({ words }) => words).join(" ")).toMatch(
      /1 piece counts as sold twice: 104-012-57 Scarf\..*2 lines of receipts, \$45 together, have no owner.*12 pieces of 5 members/,
    );
  });

  test("pieces on the floor only once selling is over", () => {
    expect(told({ settling: false, floor: { pieces: 12, members: 5 } })).toEqual([]);
  });

  test("a device that is lost stops nothing, since it may never come back", () => {
    const [one] = told({ devices: [{ till: 2, device: "Red phone", unsent: 1, lost: true }] });
    expect(one).toMatchObject({ kind: "lost-device", must: false });
  });

  test("drawers, over and short, a few by name", () => {
    const drawer = (till: number, difference: number) => ({ till, difference, note: "" });
    const [one] = told({
      drawers: [drawer(1, 50), { ...drawer(2, -200), note: "A roll was torn" }],
    });
    expect(one?.words).toBe(
      "2 drawers did not come out even: till 1 $0.5 over and till 2 $2 short (with a note).",
    );
    const [many] = told({ drawers: [1, 2, 3, 4, 5, 6].map((till) => drawer(till, -1)) });
    expect(many?.words).toContain("till 4 $0.01 short and 2 more.");
  });

  test("a way of being paid that the sale does not offer", () => {
    const wishes = [{ member: 104, classCode: null, payMethod: "cash" as const }];
    expect(told({ wishes })).toMatchObject([
      { kind: "pay-wish", must: false, words: expect.stringContaining("Member 104 in cash") },
    ]);
  });
});

test("what must be done stands before the rest", () => {
  const all = told({
    suspense: { lines: 1, amount: 1 },
    openTills: [{ id: "a", number: 1 }],
    drawers: [{ till: 1, difference: 1, note: "" }],
  });
  expect(all.map(({ must }) => must)).toEqual([true, false, false]);
});
