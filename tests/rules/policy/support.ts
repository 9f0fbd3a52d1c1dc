import fc from "fast-check";
import { firstPolicy, type Policy } from "../../../src/rules/policy/policy.ts";
import type { BookLine, BookMember, SaleBook } from "../../../src/rules/policy/sale-book.ts";

export const bookMember = (memberNumber: number, change: Partial<BookMember> = {}): BookMember => ({
  memberId: `m${memberNumber}`,
  memberNumber,
  seller: { visitor: false, committee: false, classCode: null, minutesWorked: 0 },
  facts: { itemsEntered: 1, itemsLate: 0, firstSale: false, shiftsMissed: 0 },
  missing: [],
  carried: 0,
  wish: { method: null, payAll: false },
  ...change,
});

/** One piece sold for cash; `paidByCard` makes a card pay its price and the tax on it. */
export const bookLine = (
  lineId: string,
  memberNumber: number,
  amount: number,
  change: Partial<BookLine> = {},
): BookLine => ({
  ...{ lineId, receiptId: `r${lineId}`, memberId: `m${memberNumber}`, kind: "towel" },
  ...{ donated: false, quantity: 1, amount, card: { price: 0, tax: 0 }, ...change },
});

export const paidByCard = (price: number, tax = 0) => ({ card: { price, tax } });

const amounts = fc.integer({ min: 0, max: 9_999 });
/** Any rate, and often one that makes halves of a coin. */
const rates = fc.oneof(
  fc.integer({ min: 0, max: 100_000 }),
  fc.constantFrom(0, 2_500, 12_500, 25_000, 50_000, 100_000),
);

const ratePolicies = fc.record({
  ordinary: rates,
  visitor: fc.option(rates),
  committee: fc.option(rates),
  classes: fc.array(
    fc.record({ code: fc.constant("young"), name: fc.constant("Young members"), rate: rates }),
    {
      maxLength: 1,
    },
  ),
  kinds: fc.array(
    fc.record({
      ...{ kind: fc.constant("yarn"), name: fc.constant("Handspun yarn") },
      ...{ rate: rates, visitorsToo: fc.boolean() },
    }),
    { maxLength: 1 },
  ),
  hours: fc
    .uniqueArray(fc.integer({ min: 1, max: 900 }), { maxLength: 3 })
    .chain((bounds) =>
      fc.tuple(
        ...bounds
          .toSorted((one, other) => one - other)
          .map((fromMinutes) => fc.record({ fromMinutes: fc.constant(fromMinutes), rate: rates })),
      ),
    ),
});

export const sellers = fc.record({
  visitor: fc.boolean(),
  committee: fc.boolean(),
  classCode: fc.option(fc.constant("young")),
  minutesWorked: fc.integer({ min: 0, max: 1_000 }),
});

export const roundings = fc.record({
  basis: fc.constantFrom("line" as const, "statement" as const),
  halves: fc.constantFrom("up" as const, "even" as const),
});

export const policies: fc.Arbitrary<Policy> = fc.record({
  rates: ratePolicies,
  rounding: roundings,
  fees: fc.record({
    ...{ entry: amounts, firstEntry: fc.option(amounts), late: amounts, missedShift: amounts },
    lateFor: fc.constantFrom("member" as const, "item" as const),
  }),
  cardFee: fc.record({
    way: fc.constantFrom(...(["guild", "price", "charged", "before-share"] as const)),
    rate: fc.integer({ min: 0, max: 9_000 }),
    fixed: fc.integer({ min: 0, max: 50 }),
  }),
  loss: fc.oneof(
    fc.constantFrom({ rule: "none" as const }, { rule: "price-less-share" as const }),
    fc.record({ rule: fc.constant("capped" as const), cap: amounts, aboveCap: rates }),
  ),
  payout: fc.record({
    minimum: amounts,
    tenders: fc.constant(firstPolicy(0).payout.tenders),
  }),
});

const members = [101, 102, 103];

const drawnLines = fc.record({
  memberNumber: fc.constantFrom(...members),
  receipt: fc.integer({ min: 1, max: 4 }),
  kind: fc.constantFrom("towel", "yarn"),
  donated: fc.boolean(),
  quantity: fc.integer({ min: 1, max: 4 }),
  unitPrice: fc.integer({ min: 1, max: 9_999 }),
  tax: fc.integer({ min: 0, max: 900 }),
  byCard: fc.boolean(),
});

/** Sales of three members on four receipts, without returns; the processor's fee may be known. */
export const books: fc.Arbitrary<SaleBook> = fc.record({
  members: fc.tuple(
    ...members.map((memberNumber) =>
      fc
        .record({
          seller: sellers,
          carried: fc.integer({ min: -5_000, max: 5_000 }),
          shiftsMissed: fc.integer({ min: 0, max: 2 }),
          lost: fc.integer({ min: 0, max: 30_000 }),
        })
        .map(({ seller, carried, shiftsMissed, lost }) =>
          bookMember(memberNumber, {
            ...{ seller, carried },
            facts: { itemsEntered: 3, itemsLate: 1, firstSale: true, shiftsMissed },
            missing: [{ itemId: "i", kind: "towel", donated: false, quantity: 1, price: lost }],
          }),
        ),
    ),
  ),
  lines: fc.array(drawnLines, { maxLength: 12 }).map((drawn) =>
    drawn.map(({ memberNumber, receipt, kind, donated, quantity, unitPrice, tax, byCard }, at) =>
      bookLine(`${at}`, memberNumber, unitPrice * quantity, {
        ...{ receiptId: `r${receipt}`, kind, donated, quantity },
        ...(byCard ? paidByCard(unitPrice * quantity, tax) : {}),
      }),
    ),
  ),
  cardFee: fc.option(fc.integer({ min: 0, max: 2_000 })),
});

/** Every piece of every line brought back, one by one. */
export const returnsOf = (lines: readonly BookLine[]): BookLine[] =>
  lines.flatMap((line) =>
    Array.from({ length: line.quantity }, (_, alreadyReturned) => ({
      ...line,
      lineId: `${line.lineId} back ${alreadyReturned}`,
      quantity: -1,
      amount: 0 - line.amount / line.quantity,
      card: { price: 0, tax: 0 },
      original: { lineId: line.lineId, quantity: line.quantity, alreadyReturned },
    })),
  );
