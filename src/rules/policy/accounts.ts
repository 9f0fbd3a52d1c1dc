import { groupBy } from "../group-by.ts";
import { type Minor, partOf, total } from "../money.ts";
import { expectedCardFee, type SharedCardFee, shareCardFee } from "./card-fee.ts";
import { guildRateOf } from "./guild-rate.ts";
import { memberAccount } from "./member-account.ts";
import type { Policy } from "./policy.ts";
import type { AccountLine, BookLine, BookMember, SaleAccounts, SaleBook } from "./sale-book.ts";
import { guildShares, type ShareRounding } from "./share-rounding.ts";

/** A line with its rate and its part of the card fee; `base` is what the rate applies to. */
interface RatedLine extends Omit<AccountLine, "guildShare" | "net"> {
  base: Minor;
}

/**
 * What every member of a sale is owed under a policy, by member number, and what is left for the
 * guild. The order of deductions (ours, no source): price before added tax, guild percentage,
 * fees, card fee, losses, carried balance, payout; with "before-share" the card fee comes first.
 * Throws for a line without its member or its original, for a member listed twice, for a broken
 * line, and when the books do not add up.
 */
export function accountsOf(book: SaleBook, policy: Policy): SaleAccounts {
  const members = new Map(book.members.map((member) => [member.memberId, member]));
  if (members.size !== book.members.length) throw new RangeError("A member is listed twice");
  const shared = cardFeeOf(book, policy);
  const linesOf = groupBy(
    rateLines(book.lines, members, policy, shared),
    ({ memberId }) => memberId,
  );
  const accounts = [...members.values()]
    .map((member) => {
      const lines = withShares(linesOf.get(member.memberId) ?? [], policy.rounding);
      return memberAccount(member, lines, policy);
    })
    .sort((one, other) => one.memberNumber - other.memberNumber);
  return balanced(book, accounts, shared);
}

/** `open` is the part of the whole fee that no statement holds yet. */
type SharedFee = SharedCardFee & { open: Minor };

/** What statements hold stays; the fee of the other lines is shared over them alone. */
function cardFeeOf({ lines, cardFee }: SaleBook, policy: Policy): SharedFee {
  const open = lines.filter(({ frozenCardFee }) => frozenCardFee === undefined);
  const whole = cardFee ?? expectedCardFee(open, policy.cardFee);
  const shared = shareCardFee(whole, open, policy.cardFee);
  const ofOpen = shared.perLine.values();
  const perLine = lines.map((line) => line.frozenCardFee ?? ofOpen.next().value!);
  const frozen = total(lines.map(({ frozenCardFee }) => frozenCardFee ?? 0));
  return { whole: whole + frozen, open: whole, byGuild: shared.byGuild, perLine };
}

function rateLines(
  lines: readonly BookLine[],
  members: ReadonlyMap<string, BookMember>,
  policy: Policy,
  shared: SharedCardFee,
): RatedLine[] {
  const feeOf = new Map(lines.map(({ lineId }, index) => [lineId, shared.perLine[index]!]));
  return lines.map((line, index) => {
    const member = members.get(line.memberId);
    if (!member || !isSound(line))
      throw new RangeError(`Line ${line.lineId} does not fit the book`);
    const answer = guildRateOf(policy.rates, member.seller, line);
    const cardFee = shared.perLine[index]!;
    const off = policy.cardFee.way === "before-share" ? feeBefore(line, cardFee, feeOf) : 0;
    return { ...line, answer, rate: answer.rate, cardFee, base: line.amount - off };
  });
}

/** A line is a sale, or a return that no card paid and that names what it reverses. */
function isSound({ quantity, amount, card, original }: BookLine): boolean {
  if (quantity > 0) return amount >= 0 && original === undefined && card.price <= amount;
  return quantity < 0 && amount <= 0 && original !== undefined && card.price + card.tax === 0;
}

/**
 * The card fee that lowers what the rate applies to. For a return it is the part of the sale's
 * fee, with its sign turned, so that the guild gives back the share it took and no more.
 */
function feeBefore(
  { lineId, quantity, original }: BookLine,
  cardFee: Minor,
  feeOf: ReadonlyMap<string, Minor>,
): Minor {
  if (!original) return cardFee;
  const fee = feeOf.get(original.lineId);
  if (fee === undefined)
    throw new RangeError(`Line ${lineId} takes back line ${original.lineId}, which is not here`);
  return 0 - partOf(fee, original.quantity, original.alreadyReturned, 0 - quantity);
}

/** Donated lines are all the guild's and stay out of the rounding of a statement. */
function withShares(lines: readonly RatedLine[], rounding: ShareRounding): AccountLine[] {
  const owned = lines.filter(({ donated }) => !donated);
  const shares = guildShares(owned, rounding);
  const shareOf = new Map(owned.map(({ lineId }, index) => [lineId, shares[index]!]));
  return lines.map(({ base: _, ...line }) => {
    const guildShare = shareOf.get(line.lineId) ?? line.amount;
    return { ...line, guildShare, net: line.amount - guildShare - line.cardFee };
  });
}

function balanced(
  { lines }: SaleBook,
  members: SaleAccounts["members"],
  { whole, open, byGuild }: SharedFee,
): SaleAccounts {
  const takings = total(lines.map(({ amount }) => amount));
  const forMembers = total(members.map(({ balance, carried }) => balance - carried));
  const forGuild = total(
    members.flatMap((one) => [one.guildShare, one.donated, one.feeTotal, 0 - one.lossTotal]),
  );
  const leftForGuild = forGuild - byGuild;
  if (takings !== forMembers + leftForGuild + whole)
    throw new Error(`${takings} is not ${forMembers} + ${leftForGuild} + ${whole}`);
  return {
    ...{ members, takings, leftForGuild },
    ...{ cardFee: whole, openCardFee: open, cardFeeByGuild: byGuild },
  };
}
