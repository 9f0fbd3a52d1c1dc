import { describe, expect, test } from "vitest";
import { accountsOf } from "../../../src/rules/policy/accounts.ts";
import { firstPolicy, type Policy } from "../../../src/rules/policy/policy.ts";
import {
  memberRun,
  nothingBefore,
  type RunMember,
  type SettledBefore,
  saysNothing,
} from "../../../src/rules/policy/run.ts";
import { itemWords } from "../../../src/rules/policy/run-words.ts";
import type { BookLine, BookMember } from "../../../src/rules/policy/sale-book.ts";
import { bookLine, bookMember } from "./support.ts";

const first = firstPolicy(20_000);
const policy: Policy = {
  ...first,
  rates: { ...first.rates, ordinary: 30_000, hours: [{ fromMinutes: 120, rate: 20_000 }] },
  fees: { ...first.fees, entry: 500, missedShift: 1_000 },
  loss: { rule: "price-less-share" },
  payout: { ...first.payout, minimum: 1_000 },
};

/** Two towels at 45.00; one of them came back. */
const towels = bookLine("towels", 101, 9_000, { quantity: 2 });
const back = bookLine("back", 101, -4_500, {
  ...{ quantity: -1, original: { lineId: "towels", quantity: 2, alreadyReturned: 0 } },
});
const shawl = { itemId: "shawl", kind: "shawl", donated: false, quantity: 1, price: 8_000 };

interface Given extends Partial<Pick<RunMember, "before" | "adjustments" | "carried">> {
  lines?: BookLine[];
  settled?: string[];
  member?: Partial<BookMember>;
}

/** Member 101's part of a settlement, with whose lines and which statements before it. */
function runOf({ lines = [], settled = [], member = {}, ...more }: Given) {
  const book = { members: [bookMember(101, member)], lines, cardFee: null };
  const [account] = accountsOf(book, policy).members;
  const given = { before: nothingBefore, adjustments: [], carried: 0, ...more };
  const wish = { method: null, payAll: false };
  return memberRun({ account: account!, wish, ...given }, new Set(settled), policy.payout);
}

const itemsOf = (run: ReturnType<typeof runOf>) =>
  run.items.map(({ kind, amount, before }) => [kind, amount, before]);

const worked = (minutesWorked: number) => ({
  seller: { visitor: false, committee: false, classCode: null, minutesWorked },
});

const heldBefore = (change: Partial<SettledBefore>): SettledBefore => ({
  ...nothingBefore,
  ...change,
});
const entryPaid = new Map([["entry", 500]] as const);

describe("one settlement after the other", () => {
  test("the first holds the lines and the fees", () => {
    const run = runOf({ lines: [towels] });
    // 30 % of 90.00 is 27.00, and 5.00 for the entry: 58.00 is left.
    expect(run).toMatchObject({ gross: 9_000, guildShare: 2_700, fees: 500, net: 5_800 });
    expect(run).toMatchObject({ carried: 0, due: 5_800, payout: { why: "paid" } });
    expect(itemsOf(run)).toEqual([["entry", -500, 0]]);
  });

  test("a return afterwards takes back its exact share and nothing else", () => {
    const run = runOf({
      ...{ lines: [towels, back], settled: ["towels"] },
      before: heldBefore({ guildShare: 2_700, fees: entryPaid }),
    });
    expect(run.lines.map(({ lineId }) => lineId)).toEqual(["back"]);
    expect(run).toMatchObject({ gross: -4_500, guildShare: -1_350, fees: 0, net: -3_150 });
    expect(run).toMatchObject({ due: 0, items: [], payout: { why: "owed-by-member" } });
  });

  test("hours that are ticked afterwards correct the share of what was settled", () => {
    const given = { lines: [towels], settled: ["towels"], member: worked(120) };
    const run = runOf({ ...given, before: heldBefore({ guildShare: 2_700, fees: entryPaid }) });
    expect(run).toMatchObject({ lines: [], gross: 0, guildShare: -900, net: 900 });
    expect(itemsOf(run)).toEqual([["share-correction", 900, 2_700]]);
    // Settled with the correction there is nothing more to say.
    const after = runOf({ ...given, before: heldBefore({ guildShare: 1_800, fees: entryPaid }) });
    expect(saysNothing(after)).toBe(true);
  });

  test("hours and a return together: the line has the new rate, the correction the rest", () => {
    const run = runOf({
      ...{ lines: [towels, back], settled: ["towels"], member: worked(300) },
      before: heldBefore({ guildShare: 2_700, fees: entryPaid }),
    });
    // 20 % of one towel is what the guild has in the end: 9.00.
    expect(run.lines[0]).toMatchObject({ rate: 20_000, guildShare: -900 });
    expect(itemsOf(run)).toEqual([["share-correction", 900, 2_700]]);
    expect(run.guildShare).toBe(900 - 2_700);
  });

  test.each<[words: string, missed: number, held: number, items: unknown[]]>([
    ["a fee that shrinks is given back", 1, 2_000, [["missed-shift", 1_000, 2_000]]],
    ["a fee that falls away is given back whole", 0, 2_000, [["missed-shift", 2_000, 2_000]]],
    ["a fee that grows costs the difference", 3, 2_000, [["missed-shift", -1_000, 2_000]]],
    ["a fee that stays is not taken again", 2, 2_000, []],
  ])("%s", (_, shiftsMissed, held, items) => {
    const facts = { itemsEntered: 1, itemsLate: 0, firstSale: false, shiftsMissed };
    const fees = new Map([...entryPaid, ["missed-shift", held]] as const);
    expect(itemsOf(runOf({ member: { facts }, before: heldBefore({ fees }) }))).toEqual(items);
  });

  test("a piece that is missing is made good, and found again costs that", () => {
    // 80.00 less 30 %.
    const lost = runOf({ member: { missing: [shawl] }, before: heldBefore({ fees: entryPaid }) });
    expect(lost).toMatchObject({ losses: 5_600, net: 5_600, due: 5_600 });
    const losses = new Map([["shawl", 5_600]]);
    const found = runOf({ before: heldBefore({ fees: entryPaid, losses }) });
    expect(itemsOf(found)).toEqual([["loss", -5_600, 5_600]]);
    expect(found).toMatchObject({ losses: -5_600, net: -5_600, due: 0 });
  });

  test("less than the minimum is held, and paid with what comes next", () => {
    const fees = heldBefore({ fees: entryPaid });
    const held = runOf({ lines: [bookLine("1", 101, 1_000)], before: fees });
    expect(held).toMatchObject({
      net: 700,
      due: 0,
      payout: { why: "below-minimum", carried: 700 },
    });
    const next = runOf({ lines: [bookLine("2", 101, 1_000)], before: fees, carried: 700 });
    expect(next).toMatchObject({ net: 700, carried: 700, due: 1_400 });
  });

  test("a debt is carried and taken off what comes next", () => {
    const fees = heldBefore({ fees: entryPaid });
    const lines = [bookLine("2", 101, 10_000)];
    expect(runOf({ lines, before: fees, carried: -3_150 })).toMatchObject({
      net: 7_000,
      due: 3_850,
    });
    const still = runOf({ lines, before: fees, carried: -9_000 });
    expect(still).toMatchObject({ due: 0, payout: { why: "owed-by-member", carried: -2_000 } });
  });

  test("what was held is something to say as soon as it can be paid", () => {
    const fees = heldBefore({ fees: entryPaid });
    expect(saysNothing(runOf({ before: fees, carried: 999 }))).toBe(true);
    expect(saysNothing(runOf({ before: fees, carried: 1_000 }))).toBe(false);
  });

  test("adjustments count as they are given, with their reasons", () => {
    const adjustments = [
      { adjustmentId: "a", amount: 1_250, reason: "Torn on the rack" },
      { adjustmentId: "b", amount: -200, reason: "Tags printed twice" },
    ];
    const run = runOf({ adjustments, before: heldBefore({ fees: entryPaid }) });
    expect(run).toMatchObject({ adjustments: 1_050, net: 1_050, due: 1_050 });
    expect(run.items.map(({ adjustmentId, reason }) => [adjustmentId, reason])).toEqual([
      ["a", "Torn on the rack"],
      ["b", "Tags printed twice"],
    ]);
  });
});

test.each<[words: string, given: Given]>([
  ["Entry fee", {}],
  [
    "Fee for a missed shift, 2 × $10",
    {
      member: { facts: { itemsEntered: 0, itemsLate: 0, firstSale: false, shiftsMissed: 2 } },
    },
  ],
  [
    "Fee for a missed shift, corrected from $20 to $10",
    {
      member: { facts: { itemsEntered: 0, itemsLate: 0, firstSale: false, shiftsMissed: 1 } },
      before: heldBefore({ fees: new Map([["missed-shift", 2_000]]) }),
    },
  ],
  [
    "Entry fee, corrected from $7 to $5",
    { before: heldBefore({ fees: new Map([["entry", 700]]) }) },
  ],
  [
    "Missing piece made good: 101-001 Shawl",
    { member: { missing: [shawl] }, before: heldBefore({ fees: entryPaid }) },
  ],
  [
    "Missing piece made good: 101-001 Shawl, corrected from $56 to $0",
    { before: heldBefore({ fees: entryPaid, losses: new Map([["shawl", 5_600]]) }) },
  ],
  [
    "Missing piece made good: 101-001 Shawl, corrected from $56 to $112",
    {
      member: { missing: [{ ...shawl, quantity: 2 }] },
      before: heldBefore({ fees: entryPaid, losses: new Map([["shawl", 5_600]]) }),
    },
  ],
  [
    "Guild percentage of pieces on earlier statements, corrected by $9",
    {
      ...{ lines: [towels], settled: ["towels"], member: worked(120) },
      before: heldBefore({ guildShare: 2_700, fees: entryPaid }),
    },
  ],
  [
    "Adjustment: Torn on the rack",
    {
      adjustments: [{ adjustmentId: "a", amount: 1, reason: "Torn on the rack" }],
      before: heldBefore({ fees: entryPaid }),
    },
  ],
])("a statement says: %s", (words, given) => {
  const said = runOf(given).items.map((item) =>
    itemWords(item, (amount) => `$${amount / 100}`, "101-001 Shawl"),
  );
  expect(said).toEqual([words]);
});
