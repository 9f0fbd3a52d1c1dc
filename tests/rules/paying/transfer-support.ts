import type { Transfer, TransferOrder } from "../../../src/rules/paying/transfer-order.ts";

export const transfer = (over: Partial<Transfer> = {}): Transfer => ({
  reference: "P1-0045",
  name: "Zoë Weaver",
  account: "FR14 2004 1010 0505 0001 3M02 606",
  bank: null,
  amount: 19400,
  message: "Guild sale, statement 45",
  ...over,
});

export const order = (over: Partial<TransferOrder> = {}): TransferOrder => ({
  reference: "P1",
  createdAt: "2026-12-01T19:30:00Z",
  day: "2026-12-02",
  currency: "EUR",
  payer: { name: "Guild", account: "DE89370400440532013000", bank: "DEUTDEFF" },
  transfers: [transfer(), transfer({ reference: "P1-0101", amount: 1748, bank: "ABNANL2A" })],
  ...over,
});
