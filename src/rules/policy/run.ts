import { type Minor, total } from "../money.ts";
import type { Fee } from "./fees.ts";
import { type Payout, type PayoutPolicy, type PayoutWish, payoutOf } from "./payout.ts";
import type { AccountLine, MemberAccount } from "./sale-book.ts";

/** What the statements of a sale hold of one member already; losses by item. */
export interface SettledBefore {
  guildShare: Minor;
  fees: ReadonlyMap<Fee["kind"], Minor>;
  losses: ReadonlyMap<string, Minor>;
}

/** Money for the member by somebody's decision, below zero from the member. */
export interface OpenAdjustment {
  adjustmentId: string;
  amount: Minor;
  reason: string;
}

/** What a settlement says beside the lines; `amount` above zero is for the member. */
export interface RunItem {
  kind: Fee["kind"] | "loss" | "adjustment" | "share-correction";
  count: number;
  amount: Minor;
  /** What statements held of the same before; zero for what is new. */
  before: Minor;
  /** The amount of one, for what is counted. */
  each: Minor;
  reason: string;
  itemId: string | null;
  adjustmentId: string | null;
}

/**
 * One member's part of one settlement, which holds only what no statement holds yet:
 * gross − guild share − card fee − fees + losses + adjustments = net, and net + carried is either
 * due or carried on.
 */
export interface MemberRun {
  memberId: string;
  memberNumber: number;
  lines: AccountLine[];
  items: RunItem[];
  gross: Minor;
  guildShare: Minor;
  cardFee: Minor;
  fees: Minor;
  losses: Minor;
  adjustments: Minor;
  net: Minor;
  donated: Minor;
  carried: Minor;
  due: Minor;
  payout: Payout;
}

export interface RunMember {
  account: MemberAccount;
  before: SettledBefore;
  adjustments: readonly OpenAdjustment[];
  carried: Minor;
  wish: PayoutWish;
}

export const nothingBefore: SettledBefore = { guildShare: 0, fees: new Map(), losses: new Map() };

/**
 * The difference between what a member's sale comes to now and what statements hold of it, so that
 * a later settlement never repeats or changes an earlier one: fresh lines, fees and losses that
 * grew or shrank, and the guild's share of old lines where hours or returns changed it. Throws
 * when the parts do not add up.
 */
export function memberRun(
  { account, before, adjustments, carried, wish }: RunMember,
  settledLines: ReadonlySet<string>,
  policy: PayoutPolicy,
): MemberRun {
  const lines = account.lines.filter(({ lineId }) => !settledLines.has(lineId));
  const owned = lines.filter(({ donated }) => !donated);
  const ofLines = total(owned.map(({ guildShare }) => guildShare));
  const corrected = account.guildShare - before.guildShare - ofLines;
  const items = [
    ...correctionItem(corrected, before.guildShare),
    ...feeItems(account.fees, before.fees),
    ...lossItems(account, before.losses),
    ...adjustments.map(adjustmentItem),
  ];
  const sumOf = (wanted: readonly RunItem["kind"][]) =>
    total(items.filter(({ kind }) => wanted.includes(kind)).map(({ amount }) => amount));
  const gross = total(owned.map(({ amount }) => amount));
  const cardFee = total(owned.map((line) => line.cardFee));
  const fees = 0 - sumOf(["entry", "late", "missed-shift"]);
  const [losses, adjusted] = [sumOf(["loss"]), sumOf(["adjustment"])];
  const guildShare = ofLines + corrected;
  const net = total([gross, 0 - guildShare, 0 - cardFee, 0 - fees, losses, adjusted]);
  if (net !== total([...owned.map((line) => line.net), ...items.map(({ amount }) => amount)]))
    throw new Error(`Member ${account.memberNumber}: the parts do not add up to ${net}`);
  const payout = payoutOf(policy, net + carried, wish);
  return {
    ...{ memberId: account.memberId, memberNumber: account.memberNumber, lines, items },
    ...{ gross, guildShare, cardFee, fees, losses, adjustments: adjusted, net, carried },
    donated: total(lines.filter(({ donated }) => donated).map(({ amount }) => amount)),
    ...{ due: payout.paid, payout },
  };
}

/** Whether a settlement has anything to say to a member who has no unsold pieces. */
export const saysNothing = (run: {
  lines: readonly unknown[];
  items: readonly unknown[];
  due: Minor;
}): boolean => run.lines.length === 0 && run.items.length === 0 && run.due === 0;

const bare = { count: 1, before: 0, each: 0, reason: "", itemId: null, adjustmentId: null };

const correctionItem = (corrected: Minor, before: Minor): RunItem[] =>
  corrected === 0 ? [] : [{ ...bare, kind: "share-correction", amount: 0 - corrected, before }];

function feeItems(fees: readonly Fee[], before: SettledBefore["fees"]): RunItem[] {
  const kinds = new Set([...fees.map(({ kind }) => kind), ...before.keys()]);
  return [...kinds].flatMap((kind) => {
    const now = fees.find((fee) => fee.kind === kind);
    const held = before.get(kind) ?? 0;
    const grown = (now?.amount ?? 0) - held;
    if (grown === 0) return [];
    const { count, each } = now ?? { count: 0, each: 0 };
    return [{ ...bare, kind, count, each, amount: 0 - grown, before: held }];
  });
}

function lossItems(account: MemberAccount, before: SettledBefore["losses"]): RunItem[] {
  const ids = new Set([...account.losses.map(({ itemId }) => itemId), ...before.keys()]);
  return [...ids].flatMap((itemId) => {
    const now = account.losses.find((loss) => loss.itemId === itemId);
    const held = before.get(itemId) ?? 0;
    const grown = (now?.amount ?? 0) - held;
    if (grown === 0) return [];
    const { quantity: count, each } = now ?? { quantity: 0, each: 0 };
    return [{ ...bare, kind: "loss" as const, count, each, amount: grown, before: held, itemId }];
  });
}

const adjustmentItem = ({ adjustmentId, amount, reason }: OpenAdjustment): RunItem => ({
  ...bare,
  ...{ kind: "adjustment", amount, reason, adjustmentId },
});
