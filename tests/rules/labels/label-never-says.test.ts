import { describe, expect, test } from "vitest";
import type { FibreEntry } from "../../../src/rules/labels/contents.ts";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import { checkTypedLabel } from "../../../src/rules/labels/typed-label.ts";
import { entries, piece, texts } from "./support.ts";

describe("what the label never says", () => {
  const sevenOf = piece(us, entries({ cotton: 94, silk: 3, nylon: 3 }));
  test.each([
    ["60/40 cot/lin", piece(us, entries({ cotton: 60, linen: 40 })), "303.4"],
    ["60% Cotton*, 40% Linen", piece(us, entries({ cotton: 60, linen: 40 })), "303.4"],
    ["70% Bamboo, 30% Cotton", piece(us, entries({ rayon: 70, cotton: 30 })), "Trade Commission"],
    ["Cotton blend", piece(us, entries({ cotton: 60, linen: 40 })), "303.6(a)"],
    ["100% Cotton", piece(us, entries({ cotton: 249, nylon: 1 })), "303.6(a)"],
    ["60% Cotton, 30% Linen", piece(us, entries({ cotton: 60, linen: 40 })), "House rule"],
    ["94% Cotton, 3% Silk, 3% Other Fiber", sevenOf, "303.6(a)"],
    ["55% Softleaf, 45% Cotton", piece(us, entries({ lyocell: 55, cotton: 45 })), "303.17(a)"],
    ["80% Wool, 20% Nylon", piece(us, entries({ acrylic: 80, nylon: 20 })), "303.18"],
    ["97% Cotton, 3% Wool", piece(us, entries({ cotton: 1 })), "303.18"],
    ["100% Recycled Wool", piece(us, entries({ wool: 1 })), "303.18"],
  ])("%s", (text, contents, source) => {
    const refusals = checkTypedLabel(text, contents);
    expect(refusals.map((rule) => rule.source).join("; ")).toContain(source);
    expect(refusals.at(-1)?.words).toContain(texts(contents)[0]);
  });

  test("a percentage of wool that is not there is refused by its own rule", () => {
    const [first] = checkTypedLabel("97% Cotton, 3% Wool", piece(us, entries({ cotton: 1 })));
    expect(first?.words).toContain('"Wool" is not in the list of fibres');
    const marked = piece(us, entries({ wool: 1 }, { wool: { reclaimed: true } }));
    const faults = checkTypedLabel("99% Recycled Wool", marked).map(({ source }) => source);
    expect(faults.join()).not.toContain("303.18");
  });

  test("while the lawful text is accepted as typed", () => {
    expect(checkTypedLabel(" 94% Cotton, 6% Other Fibers ", sevenOf)).toEqual([]);
  });

  test.each<[string, FibreEntry[], string]>([
    ["no fibre", [], "Say which fibres"],
    ["no weight", entries({ cotton: 0 }), "above zero"],
    ["a negative weight", entries({ cotton: 5, linen: -1 }), "above zero"],
    ["a fraction", entries({ cotton: 0.5 }), "above zero"],
    ["a fibre we do not know", [{ fibre: "softleaf" as "wool", share: 1 }], "generic name"],
    ["a large other", entries({ cotton: 90, other: 10 }), "has to be named"],
    ["scraps among fibres", entries({ cotton: 90, scraps: 10 }), "alone"],
    ["a brand with a share", entries({ silk: 1 }, { silk: { brand: "100% Pure" } }), "trade name"],
    [
      "a brand that sounds like another fibre",
      entries({ lyocell: 1 }, { lyocell: { brand: "Silkette" } }),
      "suggest a fibre",
    ],
    ["a brand that says bamboo", entries({ rayon: 1 }, { rayon: { brand: "Bamboo" } }), "bamboo"],
    ["a trace too small to print", entries({ cotton: 999_999, wool: 1 }), "too small"],
  ])("%s is refused", (_, fibres, words) => {
    const { lines, refusals } = fibreLabel(piece(us, fibres));
    expect(lines).toEqual([]);
    expect(refusals[0]?.words).toContain(words);
    expect(refusals[0]?.source).not.toBe("");
  });

  test("typed percentages have to make 100, within half a percent (house rule)", () => {
    const typed = (cotton: number, linen: number) =>
      fibreLabel(
        piece(us, [], { parts: [{ fibres: entries({ cotton, linen }), sharesAre: "percent" }] }),
      );
    expect(typed(60_000, 39_500).lines).toHaveLength(1);
    expect(typed(60_000, 39_499).lines).toHaveLength(0);
    expect(typed(60_000, 40_501).refusals[0]?.words).toContain("make 100");
  });
});
