import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import type { ReceiptFact } from "../../src/contract/till-fact.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { bankingOf } from "../../src/database/figures/banking.ts";
import { incomeStatement } from "../../src/database/figures/income-statement.ts";
import { listSoldLines, sumSoldLines } from "../../src/database/figures/sold-lines.ts";
import { takingsReport } from "../../src/database/figures/takings-report.ts";
import { taxWorksheet } from "../../src/database/figures/tax-worksheet.ts";
import { sumReceipts } from "../../src/database/receipt-list.ts";
import { localTimeOf } from "../../src/rules/zoned-time.ts";
import { buildHall, testTaxRate } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { buildFloor, type Happening, kinds, play } from "../support/figures-history.ts";

const zone = "America/Chicago";
let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 1);
});
afterAll(() => base.drop());

const happening: fc.Arbitrary<Happening> = fc.record({
  till: fc.integer({ min: 0, max: 1 }),
  minute: fc.integer({ min: 0, max: 40 * 60 }),
  pieces: fc.uniqueArray(fc.integer({ min: 0, max: 3 }), { minLength: 1, maxLength: 3 }),
  bags: fc.integer({ min: 0, max: 2 }),
  gift: fc.constantFrom(0, 0, 500, 37),
  untagged: fc.constantFrom(0, 0, 1_250),
  exempt: fc.boolean(),
  tender: fc.constantFrom("cash", "cheque", "card", "other"),
  back: fc.constantFrom("no", "no", "no", "return", "void", "exchange"),
});

/** Amounts by a key, those that came to nothing left out. */
const sums = <T>(rows: readonly T[], keyOf: (row: T) => string, amountOf: (row: T) => number) => {
  const found: Record<string, number> = {};
  for (const row of rows) found[keyOf(row)] = (found[keyOf(row)] ?? 0) + amountOf(row);
  return Object.fromEntries(Object.entries(found).filter(([, amount]) => amount !== 0));
};
const total = (amounts: readonly number[]) => amounts.reduce((sum, one) => sum + one, 0);
const paid = (fact: ReceiptFact) => total(fact.tenders.map(({ amount }) => amount));

/** The figures from what the tills sent alone: no database, no ledger. */
function model(sent: readonly ReceiptFact[], tillOf: (fact: ReceiptFact) => string, kindOf: Kinds) {
  const lines = sent.flatMap((fact) => fact.lines.map((line) => ({ line, fact })));
  const sold = lines.filter(({ line }) => line.kind !== "donation");
  const amountOf = ({ line }: (typeof lines)[number]) => line.amount;
  return {
    taken: total(sent.map(paid)),
    byTill: sums(sent, tillOf, paid),
    byTender: sums(
      sent.flatMap(({ tenders }) => tenders),
      ({ kind }) => kind,
      ({ amount }) => amount,
    ),
    byHour: sums(sent, ({ madeAt }) => localTimeOf(madeAt, zone).slice(0, 13), paid),
    byKind: sums(
      lines,
      ({ line }) => kindOf(line),
      ({ line }) => line.amount + line.tax,
    ),
    rounding: total(sent.map(({ rounding }) => rounding)),
    gross: total(sold.map(amountOf)),
    exempt: total(sold.filter(({ fact }) => fact.exemption !== "").map(amountOf)),
    tax: total(sent.map(({ tax }) => tax)),
    card: total(
      sent.flatMap(({ tenders }) => tenders.map((one) => (one.kind === "card" ? one.amount : 0))),
    ),
    guild: total(
      lines.map(({ line }) => (["goods", "donation"].includes(line.kind) ? line.amount : 0)),
    ),
  };
}
type Kinds = (line: ReceiptFact["lines"][number]) => string;

test("every report is what a plain model makes of the same history", {
  timeout: 240_000,
}, async () => {
  await fc.assert(
    fc.asyncProperty(fc.array(happening, { minLength: 1, maxLength: 6 }), async (history) => {
      const { db } = base;
      const floor = await buildFloor(db, hall);
      const sent = await play(db, hall, floor, history);
      const tills = new Map(floor.tills.map((till) => [till.sessionId, String(till.number)]));
      const kindOf: Kinds = (line) => {
        const index = floor.pieces.findIndex(({ tag }) => tag === line.tag);
        if (line.kind === "item") return `kind-${kinds[index % 2]}`;
        return { goods: "own", donation: "gift", untagged: "unknown" }[line.kind];
      };
      const wanted = model(sent, ({ tillSessionId }) => tills.get(tillSessionId)!, kindOf);

      const report = await takingsReport(db, floor.sale.id, zone);
      const amountOf = ({ amount }: { amount: number }) => amount;
      expect(report).toMatchObject({ taken: wanted.taken, booked: wanted.taken, agrees: true });
      expect(report.rounding).toBe(wanted.rounding);
      expect(sums(report.byTill, ({ key }) => key, amountOf)).toEqual(wanted.byTill);
      expect(sums(report.byTender, ({ key }) => key, amountOf)).toEqual(wanted.byTender);
      expect(sums(report.byHour, ({ hour }) => hour, amountOf)).toEqual(wanted.byHour);
      const withTax = ({ amount, tax }: { amount: number; tax: number }) => amount + tax;
      expect(sums(report.byKind, ({ key }) => key, withTax)).toEqual(wanted.byKind);

      // Each line leads to rows that come to the same.
      for (const { key, amount } of report.byTill)
        expect(await sumReceipts(db, { saleId: floor.sale.id, tillNumber: Number(key) })).toBe(
          amount,
        );
      for (const { key, amount } of report.byTender)
        expect(await sumReceipts(db, { saleId: floor.sale.id, tender: key })).toBe(amount);
      for (const { key, amount, tax, pieces } of report.byKind) {
        const asked = { saleId: floor.sale.id, kind: key };
        expect(await sumSoldLines(db, asked)).toEqual({ amount, tax, pieces });
        const { items } = await listSoldLines(db, asked, { limit: 200 });
        expect(total(items.map(amountOf))).toBe(amount);
      }

      const sheet = await taxWorksheet(db, { saleId: floor.sale.id });
      expect(sheet).toMatchObject({ agrees: true, withoutTax: 0 });
      const [row] = sheet.rows;
      expect(row).toMatchObject({
        ...{ code: "tax", rate: testTaxRate, gross: wanted.gross, exemptBuyers: wanted.exempt },
        ...{ exemptByRule: 0, taxable: wanted.gross - wanted.exempt, taken: wanted.tax },
      });
      // Half up on one total, worked out without the rule that the report uses.
      const exact = Math.abs(row!.taxable) * testTaxRate;
      const byRate = Math.floor((2 * exact + 100_000) / 200_000) * Math.sign(row!.taxable);
      expect([row!.byRate, row!.difference]).toEqual([byRate, wanted.tax - byRate]);

      const income = await incomeStatement(db, floor.sale.id);
      expect(income).toMatchObject({ result: wanted.guild + wanted.rounding, agrees: true });
      const banking = await bankingOf(db, floor.sale.id, zone);
      expect(banking.card).toMatchObject({ recorded: wanted.card, clearing: wanted.card });
    }),
    { numRuns: 12 },
  );
  expect(await checkBooks(base.db)).toMatchObject({ sound: true });
});
