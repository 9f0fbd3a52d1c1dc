import * as z from "zod";

const coins = z.number().int();
const count = z.number().int();

const taken = z.object({ key: z.string(), name: z.string(), amount: coins, booked: coins });

export const takingsReportShape = z.object({
  taken: coins,
  byTill: z.array(taken),
  byTender: z.array(taken),
  byHour: z.array(z.object({ hour: z.string(), receipts: count, amount: coins })),
  byKind: z.array(
    z.object({ key: z.string(), name: z.string(), pieces: count, amount: coins, tax: coins }),
  ),
  rounding: coins,
  booked: coins,
  agrees: z.boolean(),
});

export const soldLineShape = z.object({
  id: z.uuid(),
  receiptId: z.uuid(),
  receipt: z.string(),
  at: z.string(),
  tag: z.string(),
  description: z.string(),
  kind: z.string(),
  quantity: count,
  amount: coins,
  tax: coins,
});

export const taxWorksheetShape = z.object({
  rows: z.array(
    z.object({
      code: z.string(),
      name: z.string(),
      /** Thousandths of a percent. */
      rate: z.number().int(),
      gross: coins,
      exemptBuyers: coins,
      exemptByRule: coins,
      taxable: coins,
      taken: coins,
      byRate: coins,
      difference: coins,
    }),
  ),
  withoutTax: coins,
  ties: z.array(z.object({ code: z.string(), taken: coins, booked: coins })),
  agrees: z.boolean(),
});

const incomeLine = z.object({ account: z.string(), name: z.string(), amount: coins });

export const incomeStatementShape = z.object({
  income: z.array(incomeLine),
  expenses: z.array(incomeLine),
  result: coins,
  assets: coins,
  owed: coins,
  agrees: z.boolean(),
});

const waiting = z.object({
  memberNumber: count,
  memberName: z.string(),
  amount: coins,
  owedSince: z.string(),
  statementId: z.uuid(),
  statementNumber: count,
});

export const payablesShape = z.object({
  payables: z.array(waiting.extend({ kind: z.enum(["due", "held"]) })),
  owing: z.array(waiting),
  ages: z.array(z.object({ from: count, to: count.nullable(), total: coins })),
  notSettled: coins,
  booked: coins,
  agrees: z.boolean(),
});

export const memberYearShape = z.object({
  memberId: z.uuid(),
  number: count,
  name: z.string(),
  sold: coins,
  guildShare: coins,
  fees: coins,
  others: coins,
  paid: coins,
  toReport: z.boolean(),
});
