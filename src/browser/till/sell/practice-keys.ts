import { showTag } from "../../../rules/tag-number.ts";
import { practiceGoods } from "../practice.ts";
import { key, make, part } from "./dom.ts";
import { takeScan } from "./take-scan.ts";
import type { Till } from "./till.ts";

/** In practice nobody has tags at hand, so each made-up piece has a key that scans it. */
export function showPracticeKeys(till: Till): void {
  if (!till.parts.practice) return;
  part("practice-keys").replaceChildren(
    ...practiceGoods().map(({ tag, description }) =>
      key([make("span", "tag-number", showTag(tag)), description], () => takeScan(till, tag)),
    ),
  );
}
