import { assertMinor, type Minor, partOf, type Rate, share, total } from "./money.ts";

/**
 * A line sold or returned, as recorded: `quantity` and `amount` are above zero for a sale and
 * below zero for a return, which also carries the figures of the line it reverses.
 */
export interface SoldLine {
  lineId: string;
  memberId: string;
  memberNumber: number;
  quantity: number;
  amount: Minor;
  donated: boolean;
  rate: Rate;
  /** The reversed line; `alreadyReturned` counts the pieces that came back before this return. */
  original?: { quantity: number; amount: Minor; alreadyReturned: number };
}

export type SettledLine<Line extends SoldLine = SoldLine> = Line & {
  guildShare: Minor;
  net: Minor;
};

/** `gross`, `guildShare` and `net` leave donated lines out; `donated` sums those up. */
export interface MemberSettlement<Line extends SoldLine = SoldLine> {
  memberId: string;
  memberNumber: number;
  lines: SettledLine<Line>[];
  gross: Minor;
  guildShare: Minor;
  net: Minor;
  donated: Minor;
}

/** Who is owed what, by member number; every coin of every line is the guild's or the member's. */
export function settle<Line extends SoldLine>(lines: readonly Line[]): MemberSettlement<Line>[] {
  const byMember = new Map<string, SettledLine<Line>[]>();
  for (const line of lines) {
    const guildShare = guildShareOf(line);
    const settled = { ...line, guildShare, net: line.amount - guildShare };
    const ofMember = byMember.get(line.memberId);
    if (ofMember) ofMember.push(settled);
    else byMember.set(line.memberId, [settled]);
  }
  return [...byMember.values()]
    .map(settlementOf)
    .sort((one, other) => one.memberNumber - other.memberNumber);
}

/**
 * The guild's share of one line, half up for each line (the guild's choice; per line lets every
 * receipt line explain itself). A return takes back its exact part of the share of the line it
 * reverses, so that a full return leaves nothing with the guild. A donated line is all the guild's.
 */
export function guildShareOf(line: SoldLine): Minor {
  const { amount, quantity, original } = line;
  const isReturn = amount < 0;
  if (isReturn !== (original !== undefined) || isReturn !== quantity < 0)
    throw new RangeError(`Line ${line.lineId} is neither a sale nor a return`);
  if (line.donated) return assertMinor(amount);
  if (!original) return share(amount, line.rate);
  const taken = share(original.amount, line.rate);
  return 0 - partOf(taken, original.quantity, original.alreadyReturned, 0 - quantity);
}

function settlementOf<Line extends SoldLine>(lines: SettledLine<Line>[]): MemberSettlement<Line> {
  const { memberId, memberNumber } = lines[0]!;
  const sold = lines.filter((line) => !line.donated);
  const gross = total(sold.map(({ amount }) => amount));
  const guildShare = total(sold.map((line) => line.guildShare));
  const net = total(sold.map((line) => line.net));
  if (gross !== guildShare + net)
    throw new Error(`Member ${memberNumber}: ${gross} is not ${guildShare} + ${net}`);
  const donated = total(lines.filter((line) => line.donated).map(({ amount }) => amount));
  return { memberId, memberNumber, lines, gross, guildShare, net, donated };
}
