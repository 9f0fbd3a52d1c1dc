import { looksLikeCardNumber } from "./card-number.ts";
import type { LineKind } from "./line-kind.ts";
import { isMinor, type Minor } from "./money.ts";
import type { FieldError } from "./problem.ts";
import { largestReceipt } from "./tender.ts";

export const mostLines = 500;

/** One line in the basket; prices in smallest coins, above zero, as the tag shows them. */
export interface BasketLine {
  kind: LineKind;
  /** Tells the lines of a basket apart: the same piece twice is the same key twice. */
  key: string;
  itemId?: string;
  goodsId?: string;
  /** Empty when there is none. */
  tag: string;
  description: string;
  memberId?: string;
  memberNumber?: number;
  /** What the tax rules take it for. */
  taxKind: string;
  unitPrice: Minor;
  quantity: number;
  /** The whole amount goes to the guild. */
  donated: boolean;
  markdownAllowed: boolean;
  /** What the tag says, when a cashier corrected the price to it; `priceReason` says why. */
  printedPrice?: Minor;
  priceReason?: string;
}

/** What is wrong with the lines, field by field ("lines.0.quantity"). */
export function checkBasket(lines: readonly BasketLine[]): FieldError[] {
  if (lines.length === 0) return [{ field: "lines", message: "Add at least one piece." }];
  if (lines.length > mostLines)
    return [{ field: "lines", message: `Take at most ${mostLines} lines on one receipt.` }];
  const firstLineOf = new Map<string, number>();
  return lines.flatMap((line, index) => {
    const at = `lines.${index}`;
    const wrong = [...checkFigures(line, at), ...checkWords(line, at)];
    const earlier = firstLineOf.get(line.key);
    if (earlier === undefined) firstLineOf.set(line.key, index);
    else wrong.push({ field: `${at}.key`, message: alreadyOn(line, earlier + 1) });
    return wrong;
  });
}

const alreadyOn = ({ kind }: BasketLine, position: number): string =>
  `This ${kind === "item" ? "tag" : "line"} is already on line ${position}. ` +
  "Change the quantity there instead.";

function checkFigures(line: BasketLine, at: string): FieldError[] {
  const { quantity, unitPrice, printedPrice } = line;
  const errors: FieldError[] = [];
  if (!isMinor(quantity) || quantity < 1)
    errors.push({ field: `${at}.quantity`, message: "Type how many pieces, 1 or more." });
  if (!isMinor(unitPrice) || unitPrice <= 0)
    errors.push({ field: `${at}.unitPrice`, message: "A price must be above zero." });
  if (errors.length === 0 && BigInt(quantity) * BigInt(unitPrice) > BigInt(largestReceipt))
    errors.push({ field: `${at}.quantity`, message: "This is more than one line can hold." });
  if (printedPrice !== undefined && printedPrice !== unitPrice)
    errors.push({
      field: `${at}.unitPrice`,
      message: "A price can only be corrected to the one that the tag says.",
    });
  return errors;
}

function checkWords(line: BasketLine, at: string): FieldError[] {
  const { kind, description, printedPrice, priceReason = "" } = line;
  const errors: FieldError[] = [];
  if (kind === "untagged" && description.trim() === "")
    errors.push({ field: `${at}.description`, message: "Say in a few words what it is." });
  if (printedPrice !== undefined && priceReason.trim() === "")
    errors.push({ field: `${at}.priceReason`, message: "Say why the price is corrected." });
  const typed = { description: kind === "untagged" ? description : "", priceReason };
  for (const [field, text] of Object.entries(typed))
    if (looksLikeCardNumber(text))
      errors.push({
        field: `${at}.${field}`,
        message: "This looks like a card number, which must not be typed here. Take it out.",
      });
  return errors;
}
