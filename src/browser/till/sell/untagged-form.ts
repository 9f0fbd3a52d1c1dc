import { parseMoney } from "../../../rules/currency.ts";
import { showTag } from "../../../rules/tag-number.ts";
import { ask } from "./ask.ts";
import { withLine } from "./basket.ts";
import { untaggedLine } from "./lines.ts";
import type { Till } from "./till.ts";

/** Asks what a piece without a tag is and costs; `tag` is one that the list does not know. */
export function askUntagged(till: Till, tag = ""): void {
  ask("ask-untagged", {
    title: tag ? `The piece with tag ${showTag(tag)}` : "A piece without a tag",
    take({ description = "", price = "", member = "" }) {
      if (description === "") return "Say in a few words what it is.";
      const amount = parseMoney(price, till.scene.guild.currency);
      if (!amount.ok) return amount.problem.detail;
      if (amount.value === 0) return "A price must be above zero.";
      if (member !== "" && !/^[1-9]\d{0,3}$/.test(member))
        return "A member number has digits only, at most four. Leave it empty if nobody knows it.";
      const memberNumber = member === "" ? undefined : Number(member);
      const piece = { description, price: amount.value, memberNumber, tag };
      till.change({
        basket: withLine(till.shown.basket, untaggedLine(piece, till.newId())),
        signal: { kind: "added", words: `${description}, without its tag.` },
      });
      return undefined;
    },
  });
}
