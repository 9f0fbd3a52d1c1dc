import { describe, expect, test } from "vitest";
import { claimsCompliance } from "../../../src/rules/labels/claims.ts";
import type { FibreEntry } from "../../../src/rules/labels/contents.ts";
import { fibreLabel } from "../../../src/rules/labels/fibre-label.ts";
import { packs } from "../../../src/rules/labels/packs/index.ts";
import { unitedStates as us } from "../../../src/rules/labels/packs/us.ts";
import { entries, piece, texts } from "./support.ts";

const half = (one: FibreEntry, other: FibreEntry) => piece(us, [one, other]);

// 16 CFR 303.17(a): only beside the generic name; 303.18: no word for another fibre; 300.20: virgin.
describe("a trade name beside a fibre", () => {
  test.each<[string, FibreEntry[], string, string]>([
    [
      "names another fibre that is in the piece too",
      [
        { fibre: "lyocell", share: 1, brand: "Wool Dream" },
        { fibre: "wool", share: 1 },
      ],
      "calls another fibre to mind",
      "16 CFR 303.18",
    ],
    [
      "calls reclaimed wool virgin",
      [{ fibre: "recycled-wool", share: 1, brand: "Virgin Hills" }],
      "never reclaimed",
      "16 CFR 300.20",
    ],
    [
      "calls wool virgin that is marked as reclaimed",
      [{ fibre: "wool", share: 1, brand: "Virgin Hills", reclaimed: true }],
      "never reclaimed",
      "16 CFR 300.20",
    ],
    [
      "stands beside a fibre nobody can name",
      [{ fibre: "unknown", share: 1, brand: "Softleaf" }],
      "has no trade name",
      "16 CFR 303.17(a)",
    ],
    [
      "has no letters",
      [{ fibre: "lyocell", share: 1, brand: "🧶" }],
      "only the fibre's trade name",
      "House rule",
    ],
    [
      "cannot be seen",
      [{ fibre: "lyocell", share: 1, brand: "\u200b" }],
      "only the fibre's trade name",
      "House rule",
    ],
    [
      "is too long",
      [{ fibre: "lyocell", share: 1, brand: "W".repeat(41) }],
      "only the fibre's trade name",
      "House rule",
    ],
    [
      "claims compliance",
      [{ fibre: "cotton", share: 1, brand: "Certified Plus" }],
      "certified or complies",
      "House rule",
    ],
  ])("is refused where it %s", (_, fibres, words, source) => {
    const { lines, refusals } = fibreLabel(piece(us, fibres));
    expect(lines).toEqual([]);
    expect(refusals).toEqual([expect.objectContaining({ source })]);
    expect(refusals[0]?.words).toContain(words);
  });

  test("may name its own fibre, and reclaimed alpaca is not called virgin by its plain brand", () => {
    const merino: FibreEntry = { fibre: "superwash-wool", share: 1, brand: "Merino Star" };
    expect(texts(half(merino, { fibre: "nylon", share: 1 }))).toEqual([
      "50% Nylon, 50% Wool (Merino Star)",
    ]);
    expect(texts(piece(us, [{ fibre: "wool", share: 1, brand: "Virgin Hills" }]))).toEqual([
      "100% Wool (Virgin Hills)",
    ]);
  });

  test("is missed aloud when its fibre is too small to be named (16 CFR 303.3(a))", () => {
    const fibres = entries({ cotton: 97, lyocell: 3 }, { lyocell: { brand: "Softleaf" } });
    const label = fibreLabel(piece(us, fibres));
    expect(label.lines[0]?.text).toBe("97% Cotton, 3% Other Fiber");
    expect(label.warnings.map(({ words }) => words)).toEqual([
      "A trade name is left off: its fibre is too small a share to be named.",
    ]);
  });
});

// The Federal Trade Commission on bamboo: the source of dissolved pulp, and never a name of its own.
describe("made from bamboo", () => {
  test.each(["cotton", "wool", "silk", "polyester"] as const)("%s cannot be", (fibre) => {
    for (const pack of packs) {
      const label = fibreLabel(piece(pack, [{ fibre, share: 1, madeFrom: "bamboo" }]));
      expect(label.lines).toEqual([]);
      expect(label.refusals[0]?.words).toContain("Only rayon, viscose, lyocell or modal");
    }
  });

  test.each([
    ["rayon", "100% Rayon made from bamboo"],
    ["viscose", "100% Viscose made from bamboo"],
    ["lyocell", "100% Lyocell made from bamboo"],
  ] as const)("%s can", (fibre, text) => {
    expect(texts(piece(us, [{ fibre, share: 1, madeFrom: "bamboo" }]))).toEqual([text]);
  });
});

test.each([
  ["Certified safe", true],
  ["CPSC-compliant", true],
  ["Geprüft und zertifiziert", true],
  ["Complies with everything", true],
  ["Complimentary colours", false],
  ["Approaching storm", false],
  ["Compline blue", false],
])("%s promises that a law is met: %s", (text, claims) => {
  expect(claimsCompliance(text)).toBe(claims);
});
