import type { FactLine, ReceiptFact } from "../contract/till-fact.ts";
import type { FactScene } from "../database/fact-scene.ts";
import type { NoteToWrite } from "../database/receipt-writing.ts";
import type { BasketLine } from "../rules/basket.ts";
import { dayIn } from "../rules/day.ts";
import { markdownAt } from "../rules/markdown-time.ts";
import { totalsOf } from "../rules/receipt.ts";

export interface Figures {
  subtotal: number;
  tax: number;
  total: number;
}

/**
 * Works a till's receipt out again by the sale's terms at the till's moment. The till's figures
 * stay as the money was taken; a difference goes to the treasurer's list with both sides.
 */
export function figuresDiffer(fact: ReceiptFact, scene: FactScene): NoteToWrite[] {
  const ours = figuresAt(fact, scene, fact.madeAt);
  const sent = { subtotal: fact.subtotal, tax: fact.tax, total: fact.total };
  const same =
    sent.subtotal === ours.subtotal && sent.tax === ours.tax && sent.total === ours.total;
  return same ? [] : [{ kind: "figures-differ", detail: { sent, ours } }];
}

/** What the receipt would have come to at a moment. */
export function figuresAt(fact: ReceiptFact, scene: FactScene, at: string): Figures {
  const { subtotal, tax, total } = totalsOf(
    fact.lines.map((line) => basketLine(line, scene)),
    {
      tax: scene.terms.tax,
      day: dayIn(new Date(at), scene.timeZone),
      exempt: fact.exemption !== "",
      markdownRate: markdownAt(scene.terms, at),
    },
  );
  return { subtotal, tax, total };
}

/** What the list says of a tagged piece counts, not what the till kept of it. */
function basketLine(line: FactLine, scene: FactScene): BasketLine {
  const item = line.kind === "item" ? scene.items.find(({ tag }) => tag === line.tag) : undefined;
  const { kind, tag, description, unitPrice, quantity } = line;
  return {
    ...{ kind, key: line.id, tag, description, unitPrice, quantity },
    taxKind: item?.taxKind ?? line.taxKind,
    donated: item?.donated ?? kind === "donation",
    markdownAllowed: item?.markdown ?? false,
  };
}
