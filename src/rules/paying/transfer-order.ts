import { type Minor, total } from "../money.ts";

/** One member's payout by transfer. */
export interface Transfer {
  /** Never the same for two payouts, so that a bank refuses one that was sent before. */
  reference: string;
  name: string;
  account: string;
  /** The code of the bank, where the treasurer has it; most banks find it by the account. */
  bank: string | null;
  /** Above zero, in smallest coins of the order's currency. */
  amount: Minor;
  /** What the member reads on the statement of the bank. */
  message: string;
}

/** Transfers that leave the guild's account together. */
export interface TransferOrder {
  reference: string;
  /** The moment the order was made, as ISO 8601 in UTC. */
  createdAt: string;
  /** The day the bank is to pay, as "2026-11-27". */
  day: string;
  currency: string;
  payer: { name: string; account: string; bank: string | null };
  transfers: readonly Transfer[];
}

/** What leaves the guild's account, in smallest coins. */
export const orderTotal = ({ transfers }: TransferOrder): Minor =>
  total(transfers.map(({ amount }) => amount));
