import type { Adjustment, Line, Person, Piece, Receipt, World } from "./facts.ts";
import { type CardParts, cardPartsOf, feePot, feesOfLines } from "./model-cards.ts";
import { percent, slice, sum } from "./plain-money.ts";

/** A statement in the few figures that both sides are compared by. */
export interface Told {
  sale: number;
  number: number;
  owner: string;
  gross: bigint;
  share: bigint;
  card: bigint;
  fees: bigint;
  losses: bigint;
  adjusted: bigint;
  net: bigint;
  carried: bigint;
  due: bigint;
  method: string | null;
  donated: bigint;
  lines: [id: string, amount: bigint, rate: number, share: bigint, card: bigint][];
  /** Kind and what it is about, in the order of the alphabet. */
  items: [what: string, amount: bigint, before: bigint][];
}

/** What a person's sale comes to by now, all settlements together. */
interface Whole {
  share: bigint;
  fees: Map<string, bigint>;
  losses: Map<string, bigint>;
}

/**
 * The same money as our rules, kept as a careful treasurer would with a pocket calculator: what a
 * sale comes to altogether, less what the statements said before.
 */
export class Model {
  readonly accounts = new Map<string, bigint>();
  readonly statements: Told[] = [];
  readonly paid = new Map<number, bigint>();
  private settled = new Map<string, bigint>();
  private order: Line[] = [];
  private told = new Set<string>();

  receipt({ cash, card, rounding, lines }: Receipt): void {
    this.post("drawer/till", BigInt(cash));
    this.post("card-clearing", BigInt(card));
    this.post("cash-rounding", -BigInt(rounding));
    for (const { owner, donated, amount, tax } of lines) {
      this.post(donated ? "donations" : `member/${owner}`, -BigInt(amount));
      this.post("tax/state", -BigInt(tax));
    }
  }

  adjustment({ owner, amount }: Adjustment): void {
    this.post(`member/${owner}`, -BigInt(amount));
    this.post("adjustments", BigInt(amount));
  }

  payout(number: number, direction: 1n | -1n): void {
    const { owner, due, method } = this.statements.find((one) => one.number === number)!;
    this.post(`member/${owner}`, direction * due);
    this.post(method === "cash" ? "cash-box" : "bank", -direction * due);
    if (direction === 1n) this.paid.set(number, due);
    else this.paid.delete(number);
  }

  /** The next sale begins: what a person has left goes with them, the rest begins at nothing. */
  nextSale(): void {
    this.settled = new Map();
    this.order = [];
    this.told = new Set();
  }

  settle(world: World, knownFee: number | null): { told: Told[]; pot: bigint } {
    const open = world.lines.filter(({ id }) => !this.settled.has(id));
    const inOrder = [
      ...open.filter(({ quantity }) => quantity > 0),
      ...open.filter(({ quantity }) => quantity < 0),
    ];
    const parts: CardParts = cardPartsOf(world.receipts);
    const pot = knownFee === null ? feePot(inOrder, parts, world.policy.cardFee) : BigInt(knownFee);
    const fees = feesOfLines(pot, inOrder, parts, world.policy.cardFee);
    const feeOf = new Map([...this.settled, ...fees]);
    const told = world.people
      .map((person) => this.tell(world, person, inOrder, feeOf))
      .filter(({ lines, items, due }) => lines.length > 0 || items.length > 0 || due !== 0n);
    for (const line of inOrder) this.settled.set(line.id, feeOf.get(line.id)!);
    this.order.push(...inOrder);
    for (const one of told) this.book(one);
    return { told, pot };
  }

  private tell(world: World, person: Person, open: Line[], feeOf: Map<string, bigint>): Told {
    const mine = (lines: Line[]) => lines.filter(({ owner }) => owner === person.id);
    const shares = sharesOf(world, person, [...mine(this.order), ...mine(open)], feeOf);
    const fresh = mine(open);
    const owned = fresh.filter(({ donated }) => !donated);
    const whole = wholeOf(world, person, mine([...this.order, ...open]), shares);
    const items = [
      ...this.grown(this.of(person, world.sale), "fee", whole.fees, -1n),
      ...this.grown(this.of(person, world.sale), "loss", whole.losses, 1n),
      ...world.adjustments
        .filter(({ owner, id }) => owner === person.id && !this.told.has(id))
        .map(({ id, amount }): Told["items"][number] => [`adjustment ${id}`, BigInt(amount), 0n]),
    ];
    const before = sum(this.of(person, world.sale).map((one) => one.share));
    const share = whole.share - before;
    const correction = share - sum(owned.map(({ id }) => shares.get(id)!));
    if (correction !== 0n) items.push(["share-correction", -correction, before]);
    const of = (what: RegExp) => sum(items.filter(([name]) => what.test(name)).map(([, at]) => at));
    const gross = sum(owned.map(({ amount }) => BigInt(amount)));
    const card = sum(owned.map(({ id }) => feeOf.get(id)!));
    const figures = { fees: -of(/^fee/), losses: of(/^loss/), adjusted: of(/^adjustment/) };
    const net = gross - share - card - figures.fees + figures.losses + figures.adjusted;
    const last = this.statements.filter(({ owner }) => owner === person.id).at(-1);
    const carried = last ? last.net + last.carried - last.due : 0n;
    return {
      ...{ sale: world.sale, number: 0, owner: person.id, gross, share, card, ...figures },
      ...{ net, carried, ...payOf(world, person, net + carried) },
      donated: sum(fresh.filter((one) => one.donated).map(({ amount }) => BigInt(amount))),
      lines: fresh.map((line) => [
        ...[line.id, BigInt(line.amount), rateOf(world, person, line)],
        ...[shares.get(line.id)!, feeOf.get(line.id)!],
      ]) as Told["lines"],
      items: items.sort(([one], [other]) => (one < other ? -1 : 1)),
    };
  }

  private of = ({ id }: Person, sale: number): Told[] =>
    this.statements.filter((one) => one.owner === id && one.sale === sale);

  /** What grew or shrank since the statements of the sale, by what it is about. */
  private grown(
    statements: Told[],
    kind: string,
    now: Map<string, bigint>,
    sign: 1n | -1n,
  ): Told["items"] {
    const told = statements.flatMap(({ items }) => items);
    const names = new Set([...now.keys()].map((name) => `${kind} ${name}`));
    for (const [name] of told) if (name.startsWith(kind)) names.add(name);
    return [...names].flatMap((name): Told["items"] => {
      const held = sign * sum(told.filter(([one]) => one === name).map(([, amount]) => amount));
      const change = (now.get(name.slice(kind.length + 1)) ?? 0n) - held;
      return change === 0n ? [] : [[name, sign * change, held]];
    });
  }

  private book(told: Told): void {
    told.number = this.statements.length + 1;
    this.statements.push(told);
    const { owner, share, card, fees, losses } = told;
    this.post(`member/${owner}`, share + card + fees - losses);
    this.post("guild-share", -share);
    this.post("card-fees", -card);
    this.post("fees", -fees);
    this.post("losses", losses);
    for (const [name] of told.items)
      if (name.startsWith("adjustment")) this.told.add(name.slice("adjustment ".length));
  }

  private post(account: string, amount: bigint): void {
    this.accounts.set(account, (this.accounts.get(account) ?? 0n) + amount);
  }
}

function rateOf({ policy: { rates } }: World, person: Person, line: Line | Piece): number {
  if (line.donated) return 100_000;
  const { visitor, committee, classCode, minutes } = person;
  const isGuest = visitor && rates.visitor !== null;
  for (const { kind, rate, visitorsToo } of rates.kinds)
    if (kind === line.kind && (!isGuest || visitorsToo)) return rate;
  if (isGuest) return rates.visitor!;
  if (committee && rates.committee !== null) return rates.committee;
  for (const { code, rate } of rates.classes) if (code === classCode) return rate;
  let rate = rates.ordinary;
  for (const tier of rates.hours) if (minutes >= tier.fromMinutes) rate = tier.rate;
  return rate;
}

/** The guild's share of each line of a person, in the order of the statements. */
function sharesOf(world: World, person: Person, lines: Line[], feeOf: Map<string, bigint>) {
  const { rounding, cardFee } = world.policy;
  const shares = new Map<string, bigint>();
  let exact = 0n;
  let rounded = 0n;
  for (const line of lines) {
    const { id, donated, amount, back } = line;
    const rate = rateOf(world, person, line);
    const taken = back && { ...back, to: back.already - line.quantity };
    const part = (of: bigint) => (taken ? -slice(of, taken.quantity, taken.already, taken.to) : of);
    const off = cardFee.way === "before-share" ? part(feeOf.get(back?.line ?? id)!) : 0n;
    if (donated) shares.set(id, BigInt(amount));
    else if (rounding.basis === "statement") {
      exact += (BigInt(amount) - off) * BigInt(rate);
      const now = percent(exact, 1, rounding.halves);
      shares.set(id, now - rounded);
      rounded = now;
    } else if (taken) shares.set(id, part(shares.get(taken.line)!));
    else shares.set(id, percent(BigInt(amount) - off, rate, rounding.halves));
  }
  return shares;
}

function wholeOf(world: World, person: Person, lines: Line[], shares: Map<string, bigint>): Whole {
  const { fees, loss, rounding } = world.policy;
  const losses = new Map<string, bigint>();
  for (const piece of world.pieces.filter(({ owner }) => owner === person.id)) {
    const price = BigInt(piece.price);
    const net = price - percent(price, rateOf(world, person, piece), rounding.halves);
    let each = loss.rule === "none" ? 0n : net;
    if (loss.rule === "capped" && net > BigInt(loss.cap))
      each = BigInt(loss.cap) + percent(net - BigInt(loss.cap), loss.aboveCap, rounding.halves);
    losses.set(piece.id, each * BigInt(piece.lost));
  }
  const { entered, late, first, missed } = person;
  const entry = first && fees.firstEntry !== null ? fees.firstEntry : fees.entry;
  return {
    share: sum(lines.filter(({ donated }) => !donated).map(({ id }) => shares.get(id)!)),
    fees: new Map([
      ["entry", entered > 0 ? BigInt(entry) : 0n],
      ["late", BigInt(fees.late) * BigInt(fees.lateFor === "item" ? late : late > 0 ? 1 : 0)],
      ["missed-shift", BigInt(fees.missedShift) * BigInt(missed)],
    ]),
    losses,
  };
}

function payOf({ policy: { payout } }: World, { wish, payAll }: Person, balance: bigint) {
  if (balance <= 0n || (balance < BigInt(payout.minimum) && !payAll))
    return { due: 0n, method: null };
  const able = payout.tenders.filter(({ upTo }) => upTo === null || BigInt(upTo) >= balance);
  const wished = able.find(({ method }) => method === wish);
  return { due: balance, method: (wished ?? able[0]!).method };
}
