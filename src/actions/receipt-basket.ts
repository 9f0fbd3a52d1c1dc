import type { ReceiptInputLine } from "../contract/receipt.ts";
import type { TillGood, TillItem, TillScene } from "../database/till-reads.ts";
import type { BasketLine } from "../rules/basket.ts";
import type { FieldError } from "../rules/problem.ts";

type Priced = Extract<ReceiptInputLine, { kind: "goods" }>;
type Untagged = Extract<ReceiptInputLine, { kind: "untagged" }>;
type Tagged = Extract<ReceiptInputLine, { kind: "item" }>;

/** What is wrong with lines that name no tag: goods the guild does not sell, members it has not. */
export function checkLoose(lines: readonly ReceiptInputLine[], scene: TillScene): FieldError[] {
  return lines.flatMap((line, index) => {
    const at = `lines.${index}`;
    if (line.kind === "goods") return checkGood(line, goodOf(line.goodsId, scene), at);
    if (line.kind === "untagged" && line.memberNumber && !memberOf(line, scene))
      return [{ field: `${at}.memberNumber`, message: `Nobody has number ${line.memberNumber}.` }];
    return [];
  });
}

/** The basket as the rules read it, from lines that passed the checks. */
export const basketOf = (lines: readonly ReceiptInputLine[], scene: TillScene): BasketLine[] => {
  const byTag = new Map(scene.items.map((item) => [item.tag, item]));
  return lines.map((line, index) => {
    const key = line.kind === "item" ? line.tag : `${line.kind}-${index}`;
    if (line.kind === "item") return tagged(line, byTag.get(line.tag)!, key);
    if (line.kind === "untagged") return untagged(line, memberOf(line, scene), key);
    if (line.kind === "goods") return goods(line, goodOf(line.goodsId, scene)!, key);
    return {
      ...plain,
      kind: "donation",
      key,
      description: "Gift",
      unitPrice: line.amount,
      donated: true,
    };
  });
};

/** What a line says that has nothing special about it. */
const plain = {
  tag: "",
  taxKind: "",
  quantity: 1,
  donated: false,
  markdownAllowed: false,
} as const;

function tagged(line: Tagged, item: TillItem, key: string): BasketLine {
  const { id, tag, description, memberId, memberNumber, taxKind, donated, markdown } = item;
  const printed = line.printedPrice;
  return {
    ...{
      kind: "item",
      key,
      itemId: id,
      tag,
      description,
      memberId,
      memberNumber,
      taxKind,
      donated,
    },
    unitPrice: printed?.price ?? item.price,
    quantity: line.quantity,
    markdownAllowed: markdown,
    ...(printed ? { printedPrice: printed.price, priceReason: printed.reason } : {}),
  };
}

const untagged = (
  { description, price, quantity, memberNumber }: Untagged,
  member: { id: string } | undefined,
  key: string,
): BasketLine => ({
  ...plain,
  ...{ kind: "untagged", key, description, unitPrice: price, quantity },
  ...(member ? { memberId: member.id, memberNumber } : {}),
});

/** A gift with a button of its own is a donation, whatever its amount. */
const goods = ({ price, quantity, goodsId }: Priced, good: TillGood, key: string): BasketLine => ({
  ...plain,
  ...{ kind: good.kind, key, goodsId, description: good.name, taxKind: good.taxKind, quantity },
  unitPrice: good.price ?? price!,
  donated: good.kind === "donation",
});

function checkGood(line: Priced, good: TillGood | undefined, at: string): FieldError[] {
  if (!good) return [{ field: `${at}.goodsId`, message: "The guild does not sell this here." }];
  if (good.price === null && line.price === undefined)
    return [{ field: `${at}.price`, message: `Type the amount for ${good.name}.` }];
  if (good.price !== null && line.price !== undefined && line.price !== good.price)
    return [
      { field: `${at}.price`, message: `${good.name} has a price of its own. Leave it out.` },
    ];
  return [];
}

const goodOf = (id: string, { goods }: TillScene) => goods.find((good) => good.id === id);

const memberOf = ({ memberNumber }: Untagged, { members }: TillScene) =>
  members.find(({ number }) => number === memberNumber);
