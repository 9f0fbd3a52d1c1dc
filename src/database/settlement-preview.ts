import { formatMoney } from "../rules/currency.ts";
import { groupBy } from "../rules/group-by.ts";
import { type Minor, total } from "../rules/money.ts";
import { accountsOf } from "../rules/policy/accounts.ts";
import type { Policy } from "../rules/policy/policy.ts";
import { type MemberRun, memberRun, nothingBefore, saysNothing } from "../rules/policy/run.ts";
import { itemWords } from "../rules/policy/run-words.ts";
import type { AccountLine } from "../rules/policy/sale-book.ts";
import type { GatheredLine } from "./book-lines.ts";
import type { Transaction } from "./client.ts";
import { policyOf } from "./policies.ts";
import { type GatheredBook, gatherSaleBook } from "./sale-book.ts";
import { openAdjustments, settledBefore } from "./settled-before.ts";
import { fingerprintOf } from "./settlement-fingerprint.ts";
import { type UnsoldItem, unsoldItems } from "./unsold-items.ts";

export type PreviewLine = AccountLine & GatheredLine;

export interface PreviewMember extends Omit<MemberRun, "lines" | "items"> {
  memberName: string;
  lines: PreviewLine[];
  items: (MemberRun["items"][number] & { words: string })[];
  unsold: UnsoldItem[];
}

const figureNames = ["gross", "guildShare", "cardFee", "fees", "losses", "adjustments"] as const;
const sumNames = [...figureNames, "net", "due", "donated"] as const;

export type PreviewFigures = Record<(typeof sumNames)[number], Minor>;

export interface SettlementPreview extends PreviewFigures {
  /** Names exactly these lines with these figures: finalising anything else is refused. */
  fingerprint: string;
  policyVersion: number;
  policy: Policy;
  /** Whoever gets a statement, by number. */
  members: PreviewMember[];
  lines: number;
  /** The fee for cards that is shared out, the guild's part with it. */
  cardFeeWhole: Minor;
}

/** Who would be owed what if the sale were settled now: only what no statement holds yet. */
export async function previewSettlement(
  db: Transaction,
  saleId: string,
): Promise<SettlementPreview> {
  const { version, policy } = await policyOf(db, saleId);
  const gathered = await gatherSaleBook(db, saleId);
  const accounts = accountsOf(gathered.book, policy);
  const members = (await runsOf(db, saleId, gathered, accounts.members, policy)).filter(
    (one) => !saysNothing(one) || one.unsold.length > 0,
  );
  const sums = Object.fromEntries(
    sumNames.map((name) => [name, total(members.map((one) => one[name]))]),
  ) as PreviewFigures;
  const frozen = total(gathered.book.lines.map(({ frozenCardFee }) => frozenCardFee ?? 0));
  return {
    ...sums,
    fingerprint: fingerprintOf(members),
    ...{ policyVersion: version, policy, members },
    lines: members.reduce((sum, { lines }) => sum + lines.length, 0),
    cardFeeWhole: accounts.cardFee - frozen,
  };
}

/**
 * What a sale would bring one member if it were settled now, for the member to see meanwhile. The
 * fee for cards is the one that the policy lets expect of this member's lines alone.
 */
export async function previewMember(
  db: Transaction,
  saleId: string,
  memberId: string,
): Promise<PreviewMember | undefined> {
  const { policy } = await policyOf(db, saleId);
  const gathered = await gatherSaleBook(db, saleId, memberId);
  const { members } = accountsOf({ ...gathered.book, cardFee: null }, policy);
  const [run] = await runsOf(db, saleId, gathered, members, policy);
  return run;
}

async function runsOf(
  db: Transaction,
  saleId: string,
  { book, sellers, pieces }: GatheredBook,
  accounts: ReturnType<typeof accountsOf>["members"],
  policy: Policy,
): Promise<PreviewMember[]> {
  const guild = await db.guild.findFirstOrThrow();
  const money = (amount: Minor) => formatMoney(amount, guild.currency, guild.locale);
  const before = await settledBefore(db, saleId);
  const adjustments = await openAdjustments(db, saleId);
  const settled = new Set(book.lines.flatMap((line) => (line.settled ? [line.lineId] : [])));
  const unsold = await unsoldOf(db, saleId, book.lines);
  return accounts.map((account): PreviewMember => {
    const { memberId } = account;
    const { memberName, wish } = sellers.get(memberId)!;
    const about = { before: before.get(memberId) ?? nothingBefore, carried: account.carried };
    const given = { account, ...about, adjustments: adjustments.get(memberId) ?? [], wish };
    const { lines, items, ...run } = memberRun(given, settled, policy.payout);
    return {
      ...{ ...run, memberName, unsold: unsold.get(memberId) ?? [] },
      // The rules hand back the lines that they were given, with more.
      lines: lines as PreviewLine[],
      items: items.map((item) => ({
        ...item,
        words: itemWords(item, money, pieces.get(item.itemId ?? "") ?? "a piece"),
      })),
    };
  });
}

/** A first settlement lists all unsold pieces, a later one those of the items that it is about. */
async function unsoldOf(
  db: Transaction,
  saleId: string,
  lines: readonly GatheredLine[],
): Promise<Map<string, UnsoldItem[]>> {
  const earlier = await db.settlement.count({ where: { saleId } });
  const touched = lines.flatMap(({ settled, itemId }) => (settled || !itemId ? [] : [itemId]));
  const unsold = await unsoldItems(db, saleId, earlier > 0 ? touched : null);
  return groupBy(unsold, ({ memberId }) => memberId);
}
