import { groupBy } from "../../../../src/rules/group-by.ts";
import { accounts, negate, type Posting } from "../../../../src/rules/ledger.ts";
import {
  adjustmentPostings,
  payoutPostings,
  receiptPostings,
  settlementPostings,
} from "../../../../src/rules/ledger-entries.ts";
import { accountsOf } from "../../../../src/rules/policy/accounts.ts";
import { cardPaidParts } from "../../../../src/rules/policy/card-paid.ts";
import type { Fee } from "../../../../src/rules/policy/fees.ts";
import {
  type MemberRun,
  memberRun,
  nothingBefore,
  type SettledBefore,
  saysNothing,
} from "../../../../src/rules/policy/run.ts";
import type { BookLine, BookMember, SaleBook } from "../../../../src/rules/policy/sale-book.ts";
import type { Adjustment, Line, Person, Receipt, World } from "./facts.ts";

export type Statement = MemberRun & { sale: number; number: number };

/**
 * Our rules as `src/database/settlement-preview.ts`, `sale-book.ts`, `book-lines.ts`,
 * `settled-before.ts` and the actions put them together, with lists in place of tables.
 */
export class Books {
  readonly balances = new Map<string, bigint>();
  entries = 0;
  readonly statements: Statement[] = [];
  /** What each statement said when it was finalised. */
  readonly kept: string[] = [];
  private unread: Posting[][] = [];
  private payouts = new Map<number, Posting[]>();

  receipt(receipt: Receipt): void {
    const lines = receipt.lines.map(({ owner, donated, amount }) => ({
      ...{ kind: "item" as const, memberId: owner, suspended: false, donated, amount },
    }));
    const taxes = receipt.lines.map(({ tax }) => ({ code: "state", tax }));
    const tenders = [
      { kind: "cash" as const, amount: receipt.cash },
      { kind: "card" as const, amount: receipt.card },
    ];
    const { rounding } = receipt;
    this.post(receiptPostings({ lines, taxes, tenders, rounding }, "till"));
  }

  adjustment({ owner, amount }: Adjustment): void {
    this.post(adjustmentPostings(owner, amount));
  }

  pay(number: number): void {
    const { memberId, due, payout } = this.statements[number - 1]!;
    const from = payout.method === "cash" ? accounts.cashBox : accounts.bank;
    const postings = payoutPostings(memberId, due, from);
    this.payouts.set(number, postings);
    this.post(postings);
  }

  voidPayout(number: number): void {
    this.post(negate(this.payouts.get(number)!));
    this.payouts.delete(number);
  }

  /** Entries since the last time that somebody asked. */
  fresh(): Posting[][] {
    const fresh = this.unread;
    this.unread = [];
    return fresh;
  }

  private post(postings: Posting[]): void {
    this.unread.push(postings);
    this.entries += 1;
    for (const { account, amount } of postings)
      this.balances.set(account, (this.balances.get(account) ?? 0n) + BigInt(amount));
  }

  preview(world: World, knownFee: number | null) {
    const settled = new Set(
      this.ofSale(world.sale).flatMap(({ lines }) => lines.map(({ lineId }) => lineId)),
    );
    const whole = accountsOf(this.bookOf(world, knownFee), world.policy);
    const runs = whole.members.map((account) => {
      const person = world.people.find(({ id }) => id === account.memberId)!;
      const before = this.settledBefore(world.sale, person);
      const given = { account, before, carried: account.carried, wish: wishOf(person) };
      const adjustments = this.openAdjustments(world, person);
      return memberRun({ ...given, adjustments }, settled, world.policy.payout);
    });
    return { runs: runs.filter((run) => !saysNothing(run)), whole };
  }

  settle(world: World, knownFee: number | null) {
    const { runs, whole } = this.preview(world, knownFee);
    const added = runs.map((run, index) => ({
      ...{ ...run, sale: world.sale, number: this.statements.length + 1 + index },
    }));
    this.statements.push(...added);
    this.kept.push(...added.map((one) => JSON.stringify(one)));
    if (added.length > 0) this.post(settlementPostings(added));
    return { added, whole };
  }

  private ofSale = (sale: number) => this.statements.filter((one) => one.sale === sale);

  private bookOf(world: World, cardFee: number | null): SaleBook {
    return {
      ...{ cardFee, lines: this.bookLines(world) },
      // The numbers run on within a sale, but people are found in any order.
      members: world.people.toReversed().map((person) => this.bookMember(world, person)),
    };
  }

  private bookMember(world: World, person: Person): BookMember {
    const { id, number, visitor, committee, classCode, minutes } = person;
    const last = this.statements.filter(({ memberId }) => memberId === id).at(-1);
    return {
      ...{ memberId: id, memberNumber: number, wish: wishOf(person) },
      seller: { visitor, committee, classCode, minutesWorked: minutes },
      facts: {
        ...{ itemsEntered: person.entered, itemsLate: person.late },
        ...{ firstSale: person.first, shiftsMissed: person.missed },
      },
      missing: world.pieces
        .filter(({ owner, lost }) => owner === id && lost > 0)
        .map(({ id: itemId, lost: quantity, kind, donated, price }) => ({
          ...{ itemId, quantity, kind, donated, price },
        })),
      carried: last ? last.net + last.carried - last.due : 0,
    };
  }

  /** What statements hold comes first, in their order; then sales, then what came back. */
  private bookLines({ sale, lines, receipts }: World): BookLine[] {
    const frozen = new Map(
      this.ofSale(sale).flatMap((one) => one.lines.map((line) => [line.lineId, line.cardFee])),
    );
    const byId = new Map(lines.map((line) => [line.id, line]));
    const open = lines.filter(({ id }) => !frozen.has(id));
    const cards = cardParts(receipts);
    return [
      ...[...frozen.keys()].map((id) => byId.get(id)!),
      ...open.filter(({ quantity }) => quantity > 0),
      ...open.filter(({ quantity }) => quantity < 0),
    ].map((line) => ({
      ...{ lineId: line.id, receiptId: line.receipt, memberId: line.owner, kind: line.kind },
      ...{ donated: line.donated, quantity: line.quantity, amount: line.amount },
      card: cards.get(line.id) ?? { price: 0, tax: 0 },
      ...(frozen.has(line.id) ? { frozenCardFee: frozen.get(line.id)! } : {}),
      ...(line.back ? { original: originalOf(line.back) } : {}),
    }));
  }

  private settledBefore(sale: number, { id }: Person): SettledBefore {
    const own = this.ofSale(sale).filter(({ memberId }) => memberId === id);
    if (own.length === 0) return nothingBefore;
    const items = own.flatMap((one) => one.items);
    const sums = (kinds: string[], sign: number, key: (item: (typeof items)[number]) => string) =>
      new Map(
        [
          ...groupBy(
            items.filter(({ kind }) => kinds.includes(kind)),
            key,
          ),
        ].map(([name, some]) => [name, some.reduce((all, { amount }) => all + sign * amount, 0)]),
      );
    return {
      guildShare: own.reduce((all, { guildShare }) => all + guildShare, 0),
      fees: sums(["entry", "late", "missed-shift"], -1, ({ kind }) => kind) as Map<
        Fee["kind"],
        number
      >,
      losses: sums(["loss"], 1, ({ itemId }) => itemId ?? ""),
    };
  }

  private openAdjustments({ adjustments }: World, { id: owner }: Person) {
    const told = new Set(
      this.statements.flatMap(({ items }) => items.map(({ adjustmentId }) => adjustmentId)),
    );
    return adjustments
      .filter((one) => one.owner === owner && !told.has(one.id))
      .map(({ id, amount }) => ({ adjustmentId: id, amount, reason: "Agreed" }));
  }
}

const wishOf = ({ wish, payAll }: Person) => ({ method: wish, payAll });

const originalOf = ({ line, quantity, already }: NonNullable<Line["back"]>) => ({
  ...{ lineId: line, quantity, alreadyReturned: already },
});

function cardParts(receipts: Receipt[]) {
  const paid = receipts.filter((one) => one.kind === "sale" && !one.void && one.card > 0);
  return new Map(
    paid.flatMap(({ card, lines }) => {
      const parts = cardPaidParts(
        card,
        lines.map(({ amount, tax }) => ({ price: amount, tax })),
      );
      return lines.map(({ id }, index) => [id, parts[index]!] as const);
    }),
  );
}
