import { total } from "../money.ts";
import { feesOf } from "./fees.ts";
import { guildRateOf } from "./guild-rate.ts";
import { lossOf } from "./loss.ts";
import { payoutOf } from "./payout.ts";
import type { Policy } from "./policy.ts";
import type { AccountLine, BookMember, MemberAccount } from "./sale-book.ts";

/** Adds up one member's lines, fees, losses and carried balance, and says what is paid of it. */
export function memberAccount(
  member: BookMember,
  lines: AccountLine[],
  policy: Policy,
): MemberAccount {
  const { memberId, memberNumber, seller, carried } = member;
  const fees = feesOf(policy.fees, member.facts);
  const losses = member.missing.map((item) => {
    const { rate } = guildRateOf(policy.rates, seller, item);
    return lossOf(policy.loss, { ...item, rate }, policy.rounding.halves);
  });
  const owned = lines.filter(({ donated }) => !donated);
  const feeTotal = total(fees.map(({ amount }) => amount));
  const lossTotal = total(losses.map(({ amount }) => amount));
  const net = total(owned.map((line) => line.net));
  const balance = total([net, 0 - feeTotal, lossTotal, carried]);
  return {
    ...{ memberId, memberNumber, lines, fees, losses },
    gross: total(owned.map(({ amount }) => amount)),
    guildShare: total(owned.map(({ guildShare }) => guildShare)),
    cardFee: total(owned.map(({ cardFee }) => cardFee)),
    donated: total(lines.filter(({ donated }) => donated).map(({ amount }) => amount)),
    ...{ feeTotal, lossTotal, carried, balance },
    payout: payoutOf(policy.payout, balance, member.wish),
  };
}
