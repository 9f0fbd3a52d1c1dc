import * as z from "zod";

const coins = z.number().int();
const pieces = z.number().int();

export const takingsShape = z.object({
  saleId: z.uuid(),
  pieces: z.object({
    entered: pieces,
    withMember: pieces,
    onFloor: pieces,
    withBuyer: pieces,
    withGuild: pieces,
    lost: pieces,
    unaccounted: pieces,
  }),
  tenders: z.array(
    z.object({
      tillNumber: z.number().int(),
      tillName: z.string(),
      kind: z.string(),
      amount: coins,
    }),
  ),
  receipts: z.number().int(),
  taken: coins,
  tax: coins,
  donated: coins,
  gross: coins,
  guildShare: coins,
  cardFee: coins,
  fees: coins,
  losses: coins,
  adjustments: coins,
  paidOut: coins,
  owed: coins,
  notSettled: coins,
  overShort: coins,
  unaccounted: coins,
});

export const accountShape = z.object({
  key: z.string(),
  kind: z.string(),
  name: z.string(),
  balance: coins,
});

export const journalEntryShape = z.object({
  id: z.uuid(),
  number: z.number().int(),
  at: z.string(),
  kind: z.string(),
  description: z.string(),
  saleId: z.string().nullable(),
  postings: z.array(z.object({ account: z.string(), name: z.string(), amount: coins })),
});

export const checkedShape = z.object({
  sound: z.boolean(),
  checks: z.array(
    z.object({
      invariant: z.number().int(),
      words: z.string(),
      checked: z.number().int(),
      broken: z.string().nullable(),
    }),
  ),
  unaccounted: z.object({ pieces, money: coins }),
});

export const resultsShape = z.object({
  owed: coins,
  sales: z.array(
    z.object({
      saleId: z.uuid(),
      saleName: z.string(),
      stage: z.string(),
      entered: pieces,
      sold: pieces,
      gross: coins,
      guildShare: coins,
      net: coins,
      statements: z.array(
        z.object({
          id: z.uuid(),
          number: z.number().int(),
          net: coins,
          due: coins,
          left: coins,
          paid: z.boolean(),
        }),
      ),
    }),
  ),
});

export const soldPieceShape = z.object({
  id: z.uuid(),
  at: z.string(),
  tag: z.string(),
  description: z.string(),
  quantity: z.number().int(),
  amount: coins,
  donated: z.boolean(),
});
