import { checkFibres, type Fibre } from "./fibre.ts";
import type { LabelDetails } from "./labels/details.ts";
import { groupOf, notTextile } from "./labels/groups.ts";
import { checkLists } from "./labels/label-contents.ts";
import type { Minor } from "./money.ts";
import type { FieldError } from "./problem.ts";
import { checkPrice, checkQuantity, type PriceRules } from "./sale-rules.ts";

export const mostPiecesInSet = 99;

/** What a member says about an item. `price` is for one piece, or for one whole set. */
export interface ItemDetails {
  /** The code of a kind of goods. */
  kind: string;
  description: string;
  technique: string;
  fibres: Fibre[];
  size: string;
  colours: string;
  label: LabelDetails;
  price: Minor;
  quantity: number;
  /** How many pieces one set holds; 1 for a single piece. */
  piecesInSet: number;
  /** The guild keeps the whole price. */
  donated: boolean;
  /** The member agrees that the guild may sell it for less on the last day. */
  markdown: boolean;
}

/** Candles and soap have no fibres to speak of. */
const isOfFibre = (labelKind: string): boolean => !notTextile.includes(groupOf(labelKind));

/**
 * What is wrong with an item in a sale, every field at once. `prefix` goes before each field;
 * `labelKind` is what the label rules take its kind for.
 */
export function checkItem(
  item: ItemDetails,
  rules: PriceRules,
  prefix = "",
  labelKind = item.kind,
): FieldError[] {
  const errors: FieldError[] = [];
  if (item.description === "")
    errors.push({ field: "description", message: "Say in a few words what it is." });
  if (item.label.yarns.length === 0 && (item.fibres.length > 0 || isOfFibre(labelKind)))
    errors.push(...checkFibres(item.fibres));
  errors.push(...checkLists({ ...item, title: item.description }));
  errors.push(...checkPrice(item.price, rules), ...checkQuantity(item.quantity));
  errors.push(...checkPiecesInSet(item.piecesInSet));
  return errors.map(({ field, message }) => ({ field: prefix + field, message }));
}

function checkPiecesInSet(pieces: number): FieldError[] {
  if (Number.isSafeInteger(pieces) && pieces >= 1 && pieces <= mostPiecesInSet) return [];
  return [{ field: "piecesInSet", message: `Type a whole number from 1 to ${mostPiecesInSet}.` }];
}

/** "3 alike" or "set of 4": what the number of pieces under a tag means, or empty for one piece. */
export function piecesText(quantity: number, piecesInSet: number): string {
  const alike = quantity > 1 ? `${quantity} alike` : "";
  const set = piecesInSet > 1 ? `set of ${piecesInSet}` : "";
  return [set, alike].filter(Boolean).join(", ");
}
