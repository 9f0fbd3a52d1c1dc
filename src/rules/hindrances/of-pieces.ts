import { showTag } from "../tag-number.ts";
import type { Hindrance, HindranceFacts, Money } from "./hindrance.ts";
import { counted, some } from "./words.ts";

export function soldTwice({ soldTwice, saleId }: HindranceFacts): Hindrance[] {
  const [first] = soldTwice;
  if (!first) return [];
  const pieces = soldTwice.map(({ tag, description }) => `${showTag(tag)} ${description}`);
  return [
    {
      kind: "sold-twice",
      must: false,
      count: soldTwice.length,
      words: `${counted(soldTwice.length, "piece counts", "pieces count")} as sold twice: ${some(pieces)}. The money of the second sale is nobody's yet.`,
      action: {
        label: "Find whose it is",
        href: `/books/${saleId}/suspense?line=${first.lineId}#line-${first.lineId}`,
      },
    },
  ];
}

export const suspense = (
  { suspense: { lines, amount }, saleId }: HindranceFacts,
  money: Money,
): Hindrance[] =>
  lines === 0
    ? []
    : [
        {
          kind: "suspense",
          must: false,
          count: lines,
          words: `${counted(lines, "line", "lines")} of receipts, ${money(amount)} together, ${lines === 1 ? "has" : "have"} no owner yet. Until then the money is nobody's.`,
          action: { label: "Find the owners", href: `/books/${saleId}/suspense` },
        },
      ];

export const onFloor = ({
  settling,
  floor: { pieces, members },
  saleId,
}: HindranceFacts): Hindrance[] =>
  !settling || pieces === 0
    ? []
    : [
        {
          kind: "on-floor",
          must: false,
          count: pieces,
          words: `${counted(pieces, "piece", "pieces")} of ${counted(members, "member", "members")} ${pieces === 1 ? "is" : "are"} still on the floor: neither sold, nor signed out, nor noted as missing.`,
          action: { label: "Account for them", href: `/desk/${saleId}/missing` },
        },
      ];
