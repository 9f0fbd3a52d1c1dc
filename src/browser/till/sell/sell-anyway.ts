import { showTag } from "../../../rules/tag-number.ts";
import { withLine } from "./basket.ts";
import { itemLine } from "./lines.ts";
import type { Outcome } from "./outcome.ts";
import type { Signal } from "./signal.ts";
import type { Till } from "./till.ts";
import { askUntagged } from "./untagged-form.ts";

/**
 * A piece in the buyer's hands can be sold although the list does not know it is here; the
 * treasurer looks at it later. One that was sold elsewhere cannot: it may be the wrong tag.
 */
export function sellAnyway(till: Till, { kind, tag, item }: Outcome): Signal["action"] {
  if (kind === "unknown" && tag)
    return { label: "Sell it by its description", run: () => askUntagged(till, tag) };
  if (kind !== "not-in" || !item) return undefined;
  return {
    label: "It is here: sell it",
    run: () =>
      till.change({
        basket: withLine(till.shown.basket, itemLine(item, till.newId())),
        signal: {
          kind: "added",
          words: `${showTag(item.tag)} ${item.description}. The treasurer looks at it later.`,
        },
      }),
  };
}
