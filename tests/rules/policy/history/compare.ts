import { isDeepStrictEqual } from "node:util";
import { expect } from "vitest";
import { itemWords } from "../../../../src/rules/policy/run-words.ts";
import type { SaleAccounts } from "../../../../src/rules/policy/sale-book.ts";
import type { Books, Statement } from "./books.ts";
import type { Sides } from "./commands.ts";
import type { Told } from "./model.ts";
import { sum } from "./plain-money.ts";

/** What has to hold after every deed. */
export function compare({ world, model }: Sides, books: Books): void {
  for (const postings of books.fresh()) same(sum(postings.map(({ amount }) => BigInt(amount))), 0n);
  for (const account of new Set([...books.balances.keys(), ...model.accounts.keys()]))
    if ((books.balances.get(account) ?? 0n) !== (model.accounts.get(account) ?? 0n))
      expect([account, books.balances]).toEqual([account, model.accounts]);
  for (const { id } of world.people)
    chainHolds(books.statements.filter((one) => one.memberId === id));
}

/** A quick comparison: the words of the slow one are only wanted when something is wrong. */
function same<T>(actual: T, expected: T): void {
  if (actual !== expected && !isDeepStrictEqual(actual, expected)) expect(actual).toEqual(expected);
}

/** What the statements of a history said is what they say at its end, and nothing is said twice. */
export function compareKept(books: Books): void {
  same(
    books.statements.map((one) => JSON.stringify(one)),
    books.kept,
  );
  const settled = books.statements.flatMap(({ lines, items }) => [
    ...lines.map(({ lineId }) => lineId),
    ...items.flatMap(({ adjustmentId }) => adjustmentId ?? []),
  ]);
  same(new Set(settled).size, settled.length);
}

/** Each statement begins with what the one before left, and no coin of it is paid or kept twice. */
function chainHolds(statements: Statement[]): void {
  let left = 0;
  for (const { net, carried, due } of statements) {
    same(carried, left);
    left = net + carried - due;
  }
  const [net, due] = [statements.map((one) => one.net), statements.map((one) => one.due)];
  same(total(net), total(due) + left);
}

const total = (amounts: number[]) => amounts.reduce((all, amount) => all + amount, 0);

/** A settlement says what the model says, adds up, and leaves nothing to settle. */
export function compareSettled(
  { world, model }: Sides,
  books: Books,
  expected: { told: Told[]; pot: bigint },
  { added, whole }: { added: Statement[]; whole: SaleAccounts },
  knownFee: number | null,
): void {
  same(added.map(tell), expected.told);
  for (const one of added) addsUp(one);
  const told = model.statements.filter(({ sale }) => sale === world.sale);
  const takings = world.lines.reduce((all, { amount }) => all + BigInt(amount), 0n);
  const spread = told.map((one) => one.gross + one.donated);
  // Every line is on a statement now, and what is not the members' or the processor's is the guild's.
  same(sum(spread), takings);
  same(BigInt(whole.takings), takings);
  const held = sum(told.map(({ card }) => card));
  const heldBefore = held - sum(expected.told.map(({ card }) => card));
  same(BigInt(whole.cardFee), heldBefore + expected.pot);
  same(BigInt(whole.cardFee - whole.cardFeeByGuild), held);
  const forMembers = sum(told.map((one) => one.net - one.adjusted));
  same(takings, forMembers + BigInt(whole.leftForGuild) + BigInt(whole.cardFee));
  if (knownFee !== null) same(Number(expected.pot), knownFee);
  if (added.length > 0) same(books.preview(world, null).runs, []);
}

function addsUp({ lines, items, ...one }: Statement): void {
  const owned = lines.filter(({ donated }) => !donated);
  same(total([...owned.map(({ net }) => net), ...items.map(({ amount }) => amount)]), one.net);
  for (const { amount, guildShare, cardFee, net } of lines)
    same(guildShare + cardFee + net, amount);
  for (const item of items) same(itemWords(item, String, "a towel") === "", false);
  same(one.payout.paid + one.payout.carried, one.net + one.carried);
}

/** A statement of ours in the figures of the model. */
const tell = (one: Statement): Told => ({
  ...{ sale: one.sale, number: one.number, owner: one.memberId },
  ...{ gross: BigInt(one.gross), share: BigInt(one.guildShare), card: BigInt(one.cardFee) },
  ...{ fees: BigInt(one.fees), losses: BigInt(one.losses), adjusted: BigInt(one.adjustments) },
  ...{ net: BigInt(one.net), carried: BigInt(one.carried), due: BigInt(one.due) },
  ...{ method: one.payout.method, donated: BigInt(one.donated) },
  lines: one.lines.map(({ lineId, amount, rate, guildShare, cardFee }) => [
    ...[lineId, BigInt(amount), rate, BigInt(guildShare), BigInt(cardFee)],
  ]) as Told["lines"],
  items: one.items
    .map((item): Told["items"][number] => [nameOf(item), BigInt(item.amount), BigInt(item.before)])
    .sort(([first], [second]) => (first < second ? -1 : 1)),
});

function nameOf({ kind, itemId, adjustmentId }: Statement["items"][number]): string {
  if (kind === "loss") return `loss ${itemId}`;
  if (kind === "adjustment") return `adjustment ${adjustmentId}`;
  return kind === "share-correction" ? kind : `fee ${kind}`;
}
