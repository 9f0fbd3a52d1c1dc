import type { Minor } from "../money.ts";
import { accountsOf } from "./accounts.ts";
import type { Policy } from "./policy.ts";
import type { MemberAccount, SaleBook } from "./sale-book.ts";

/** The figures of one member that a policy decides, in smallest coins. */
export interface MemberFigures {
  guildShare: Minor;
  cardFee: Minor;
  fees: Minor;
  losses: Minor;
  balance: Minor;
  paid: Minor;
}

export interface MemberEffect {
  memberId: string;
  memberNumber: number;
  before: MemberFigures;
  after: MemberFigures;
  /** By how much the member's balance grows, below zero when it shrinks. */
  change: Minor;
}

export interface PolicyEffect {
  members: MemberEffect[];
  guild: { before: Minor; after: Minor; change: Minor };
}

/**
 * What it means for every member and for the guild to settle a sale by another policy, by member
 * number. Where the processor's fee is known, what the members gain is what the guild loses.
 */
export function policyEffect(book: SaleBook, before: Policy, after: Policy): PolicyEffect {
  const old = accountsOf(book, before);
  const fresh = accountsOf(book, after);
  const members = old.members.map((account, index) => {
    const [one, other] = [figuresOf(account), figuresOf(fresh.members[index]!)];
    const { memberId, memberNumber } = account;
    return {
      ...{ memberId, memberNumber, before: one, after: other },
      change: other.balance - one.balance,
    };
  });
  const guild = {
    before: old.leftForGuild,
    after: fresh.leftForGuild,
    change: fresh.leftForGuild - old.leftForGuild,
  };
  return { members, guild };
}

const figuresOf = (account: MemberAccount): MemberFigures => ({
  guildShare: account.guildShare,
  cardFee: account.cardFee,
  fees: account.feeTotal,
  losses: account.lossTotal,
  balance: account.balance,
  paid: account.payout.paid,
});

/** Sorts members by how much they gain or lose, the most first, then by number. */
export const byGreatestChange = (one: MemberEffect, other: MemberEffect): number =>
  Math.abs(other.change) - Math.abs(one.change) || one.memberNumber - other.memberNumber;
