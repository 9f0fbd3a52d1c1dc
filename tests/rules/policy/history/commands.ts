import fc from "fast-check";
import type { Policy } from "../../../../src/rules/policy/policy.ts";
import { policies, sellers } from "../support.ts";
import type { Books } from "./books.ts";
import { compare, compareSettled } from "./compare.ts";
import { freshSale, type Line, nameOf, type Receipt, type World } from "./facts.ts";
import type { Model } from "./model.ts";

export interface Sides {
  world: World;
  model: Model;
}

/** One deed: what it needs, and how facts, model and rules take it. */
class Step implements fc.Command<Sides, Books> {
  constructor(
    private readonly words: string,
    private readonly able: (sides: Sides) => boolean,
    private readonly act: (sides: Sides, books: Books) => void,
  ) {}
  check = (sides: Readonly<Sides>) => this.able(sides);
  run(sides: Sides, books: Books): void {
    this.act(sides, books);
    compare(sides, books);
  }
  toString = () => this.words;
}

const always = () => true;
const step = <T>(
  name: string,
  arbitrary: fc.Arbitrary<T>,
  act: (given: T, sides: Sides, books: Books) => void,
  able: (given: T, sides: Sides) => boolean = always,
): fc.Arbitrary<Step> =>
  arbitrary.map(
    (given) =>
      new Step(
        `${name}(${JSON.stringify(given)})`,
        (sides) => able(given, sides),
        (sides, books) => act(given, sides, books),
      ),
  );

const small = fc.nat({ max: 8 });
const pick = <T>(list: readonly T[], at: number): T => list[at % list.length]!;

const soldLines = fc.array(
  fc.record({
    piece: small,
    quantity: fc.integer({ min: 1, max: 4 }),
    discount: fc.nat({ max: 200 }),
    tax: fc.nat({ max: 400 }),
  }),
  { minLength: 1, maxLength: 3 },
);

const sale = step(
  "sale",
  fc.record({
    lines: soldLines,
    quarters: fc.nat({ max: 4 }),
    rounding: fc.integer({ min: -2, max: 2 }),
  }),
  ({ lines: sold, quarters, rounding }, { world, model }, books) => {
    const id = nameOf(world, "r");
    const lines = sold.map(({ piece: at, quantity, discount, tax }): Line => {
      const { owner, kind, donated, price } = pick(world.pieces, at);
      const amount = price * quantity - discount;
      const about = { id: nameOf(world, "l"), receipt: id, owner, kind, donated };
      return { ...about, quantity, amount, tax, back: null };
    });
    const whole = lines.reduce((sum, { amount, tax }) => sum + amount + tax, 0);
    const card = Math.floor((whole * quarters) / 4);
    const cash = whole - card + (quarters < 4 ? rounding : 0);
    const receipt: Receipt = {
      ...{ id, kind: "sale", card, cash, rounding: cash + card - whole, lines, void: false },
    };
    recordReceipt(receipt, { world, model }, books);
  },
);

function recordReceipt(receipt: Receipt, { world, model }: Sides, books: Books): void {
  world.receipts.push(receipt);
  world.lines.push(...receipt.lines);
  model.receipt(receipt);
  books.receipt(receipt);
}

const backOf = (world: World, line: string) =>
  world.lines.reduce((sum, { back, quantity }) => (back?.line === line ? sum - quantity : sum), 0);

/** Lines of which something is left, first those of which something came back before. */
const returnable = ({ world }: Sides) =>
  world.lines
    .filter((line) => line.quantity > 0 && backOf(world, line.id) < line.quantity)
    .toSorted((one, other) => backOf(world, other.id) - backOf(world, one.id));

/** Cash goes back for so many pieces of a line: their exact part, the last ones what is left. */
function takeBack(world: World, receipt: string, line: Line, quantity: number): Line {
  const already = backOf(world, line.id);
  const part = (amount: number) =>
    Math.floor((amount * (already + quantity)) / line.quantity) -
    Math.floor((amount * already) / line.quantity);
  return {
    ...{ ...line, id: nameOf(world, "l"), receipt, quantity: 0 - quantity },
    ...{ amount: 0 - part(line.amount), tax: 0 - part(line.tax) },
    back: { line: line.id, quantity: line.quantity, already },
  };
}

function giveBack(kind: "return" | "void", lines: [Line, number][], sides: Sides, books: Books) {
  const id = nameOf(sides.world, "r");
  const back = lines.map(([line, quantity]) => takeBack(sides.world, id, line, quantity));
  const cash = back.reduce((sum, { amount, tax }) => sum + amount + tax, 0);
  const receipt = { id, kind, card: 0, cash, rounding: 0, lines: back, void: false };
  recordReceipt(receipt, sides, books);
}

const refund = step(
  "refund",
  fc.record({ line: fc.nat({ max: 3 }), quantity: fc.constantFrom(1, 1, 1, 3) }),
  ({ line: at, quantity }, sides, books) => {
    const line = pick(returnable(sides), at);
    const left = line.quantity - backOf(sides.world, line.id);
    giveBack("return", [[line, Math.min(quantity, left)]], sides, books);
  },
  (_, sides) => returnable(sides).length > 0,
);

const voidable = ({ world }: Sides) =>
  world.receipts.filter(
    (one) => one.kind === "sale" && one.lines.every(({ id }) => backOf(world, id) === 0),
  );

const callOff = step(
  "void",
  small,
  (at, sides, books) => {
    const receipt = pick(voidable(sides), at);
    receipt.void = true;
    const lines = receipt.lines.map((line): [Line, number] => [line, line.quantity]);
    giveBack("void", lines, sides, books);
  },
  (_, sides) => voidable(sides).length > 0,
);

const terms = step("terms", fc.tuple(small, sellers), ([at, seller], { world }) => {
  const { visitor, committee, classCode, minutesWorked } = seller;
  Object.assign(pick(world.people, at), { visitor, committee, classCode, minutes: minutesWorked });
});

const work = step(
  "work",
  fc.record({ who: small, minutes: fc.nat({ max: 900 }), missed: fc.nat({ max: 2 }) }),
  ({ who, minutes, missed }, { world: { people, policy } }) => {
    // Every second time exactly what a step of the policy asks for.
    const bounds = policy.rates.hours.map(({ fromMinutes }) => fromMinutes);
    const exact = minutes % 2 === 0 && bounds.length > 0 ? pick(bounds, minutes / 2) : minutes;
    Object.assign(pick(people, who), { minutes: exact, missed });
  },
);

const entries = step(
  "entries",
  fc.record({ who: small, entered: fc.nat({ max: 3 }), late: small, wish: small }),
  ({ who, entered, late, wish }, { world }) =>
    Object.assign(pick(world.people, who), {
      ...{ entered, late: entered === 0 ? 0 : late % (entered + 1), payAll: wish > 6 },
      wish: pick([null, "cash", "transfer", "cheque"] as const, wish),
    }),
);

const loss = step("lost", fc.tuple(small, fc.nat({ max: 2 })), ([at, lost], { world }) =>
  Object.assign(pick(world.pieces, at), { lost }),
);

const adjust = step(
  "adjustment",
  fc.tuple(
    small,
    fc.integer({ min: -3_000, max: 3_000 }).filter((amount) => amount !== 0),
  ),
  ([at, amount], { world, model }, books) => {
    const adjustment = { id: nameOf(world, "a"), owner: pick(world.people, at).id, amount };
    world.adjustments.push(adjustment);
    model.adjustment(adjustment);
    books.adjustment(adjustment);
  },
);

const settlement = step(
  "settle",
  fc.option(fc.nat({ max: 900 }), { freq: 3 }),
  (fee, sides, books) =>
    compareSettled(
      sides,
      books,
      sides.model.settle(sides.world, fee),
      books.settle(sides.world, fee),
      fee,
    ),
);

const unpaid = ({ model }: Sides) =>
  model.statements.filter(({ due, number }) => due > 0n && !model.paid.has(number));

const pay = step(
  "pay",
  small,
  (at, sides, books) => {
    const { number } = pick(unpaid(sides), at);
    sides.model.payout(number, 1n);
    books.pay(number);
  },
  (_, sides) => unpaid(sides).length > 0,
);

const voidPayout = step(
  "void payout",
  small,
  (at, { model }, books) => {
    const number = pick([...model.paid.keys()], at);
    model.payout(number, -1n);
    books.voidPayout(number);
  },
  (_, { model }) => model.paid.size > 0,
);

const tenders = fc.constantFrom<Policy["payout"]["tenders"]>(
  [{ method: "cheque", upTo: null }],
  [
    { method: "cash", upTo: 4_000 },
    { method: "transfer", upTo: null },
  ],
  [
    { method: "transfer", upTo: null },
    { method: "cash", upTo: 6_000 },
    { method: "cheque", upTo: 9_000 },
  ],
);

export const decided: fc.Arbitrary<Policy> = fc
  .tuple(policies, tenders)
  .map(([policy, list]) => ({ ...policy, payout: { ...policy.payout, tenders: list } }));

const policy = step(
  "policy",
  fc.tuple(decided, fc.boolean()),
  ([next, exact], { world, model }) => {
    // Sometimes the minimum is to the coin what somebody was not paid for being below it.
    const held = model.statements.filter(({ net, carried, due }) => net + carried > due).at(-1);
    const minimum = exact && held ? Number(held.net + held.carried) : next.payout.minimum;
    Object.assign(world, { policy: { ...next, payout: { ...next.payout, minimum } } });
  },
);

const nextSale = step("next sale", fc.constant(null), (_, { world, model }) => {
  world.sale += 1;
  Object.assign(world, freshSale(world));
  model.nextSale();
});

/** Sales and settlements come up more often than the rest, so that most histories settle twice. */
export const histories = fc.commands(
  [
    ...[sale, sale, sale, refund, refund, refund, callOff, terms, work, entries, loss, adjust],
    ...[settlement, settlement, settlement, settlement, pay, pay, voidPayout, policy, nextSale],
  ],
  { maxCommands: 16, size: "max" },
);
