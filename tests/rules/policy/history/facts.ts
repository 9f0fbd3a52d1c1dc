import type { CardFeePolicy } from "../../../../src/rules/policy/card-fee.ts";
import type { Policy } from "../../../../src/rules/policy/policy.ts";
import type { PayoutMethod } from "../../../../src/rules/statement.ts";

/**
 * What happens in a history, as bare facts: the rules and the model each work out from them what
 * it means in money. Amounts in smallest coins.
 */
export interface World {
  sale: number;
  policy: Policy;
  people: Person[];
  pieces: Piece[];
  lines: Line[];
  receipts: Receipt[];
  adjustments: Adjustment[];
  /** Running number of everything that needs a name. */
  named: number;
}

export interface Person {
  id: string;
  number: number;
  visitor: boolean;
  committee: boolean;
  classCode: string | null;
  minutes: number;
  entered: number;
  late: number;
  first: boolean;
  missed: number;
  wish: PayoutMethod | null;
  payAll: boolean;
}

/** Alike pieces of one person, so many of which are missing. */
export interface Piece {
  id: string;
  owner: string;
  kind: string;
  donated: boolean;
  price: number;
  lost: number;
}

/** Of a return everything is below zero; `back` names the line it takes back. */
export interface Line {
  id: string;
  receipt: string;
  owner: string;
  kind: string;
  donated: boolean;
  quantity: number;
  amount: number;
  tax: number;
  back: { line: string; quantity: number; already: number } | null;
}

export interface Receipt {
  id: string;
  kind: "sale" | "return" | "void";
  /** What a card paid; the rest is cash, with what was rounded. */
  card: number;
  cash: number;
  rounding: number;
  lines: Line[];
  /** Called off whole: the terminal takes its payment back. */
  void: boolean;
}

export interface Adjustment {
  id: string;
  owner: string;
  amount: number;
}

export type CardWay = CardFeePolicy["way"];

export function newWorld(policy: Policy): World {
  const people = [101, 102, 103].map((number, index) => ({
    ...{ id: `m${number}`, number, visitor: index === 2, committee: false, classCode: null },
    ...{ minutes: 0, entered: 3, late: 0, first: index === 1, missed: 0 },
    ...{ wish: null, payAll: false },
  }));
  const world = { sale: 1, policy, people, named: 0, pieces: [] } as unknown as World;
  return Object.assign(world, freshSale(world));
}

/** Everything that belongs to one sale alone, empty again. */
export const freshSale = ({ people, sale }: Pick<World, "people" | "sale">) => ({
  pieces: people.flatMap(({ id, number }) => [
    { id: `${sale}/${number}/1`, owner: id, kind: "towel", donated: false, price: 4_995, lost: 0 },
    { id: `${sale}/${number}/2`, owner: id, kind: "yarn", donated: false, price: 1_233, lost: 0 },
    { id: `${sale}/${number}/3`, owner: id, kind: "towel", donated: true, price: 700, lost: 0 },
  ]),
  ...{ lines: [] as Line[], receipts: [] as Receipt[], adjustments: [] as Adjustment[] },
});

export const nameOf = (world: World, what: string): string => {
  world.named += 1;
  return `${what}${world.named}`;
};
