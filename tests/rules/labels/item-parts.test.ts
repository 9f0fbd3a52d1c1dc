import { expect, test } from "vitest";
import type { Fibre } from "../../../src/rules/fibre.ts";
import { emptyDetails, type LabelDetails } from "../../../src/rules/labels/details.ts";
import { itemLabel } from "../../../src/rules/labels/item-label.ts";
import { settingOf } from "../../../src/rules/labels/label-setting.ts";

const guild = {
  ...{ jurisdiction: "us", labelLanguages: [], labelIdentity: "member", careSymbols: false },
  ...{ locale: "en-US", name: "Alder Creek Weavers", address: "", registeredNumber: "" },
};
const nobody = { businessName: "", postalLine: "", registeredNumber: "" };

const labelOf = (kind: string, fibres: Fibre[], more: Partial<LabelDetails>, jurisdiction = "us") =>
  itemLabel(
    { title: "Piece", kind, fibres, label: { ...emptyDetails, ...more } },
    settingOf({ ...guild, jurisdiction }, nobody),
  );
const texts = (lines: { text: string }[]) => lines.map(({ text }) => text);

// 16 CFR 303.25: once a part is listed, the rest is the body.
test("fibres of a piece with a fringe are those of its body", () => {
  const parts = [{ section: "fringe" as const, fibres: [{ fibre: "silk", percent: 100 }] }];
  const label = labelOf("scarf", [{ fibre: "wool", percent: 100 }], { parts });
  expect(texts(label.fibre.lines)).toEqual(["Body: 100% Wool", "Fringe: 100% Silk"]);
  // The most delicate part decides the care.
  expect(texts(label.care.lines)[0]).toContain("Dry flat in shade. Cool iron");
});

// 16 CFR 303.12(a).
test("the surface that decoration covers decides whether it is left out", () => {
  const fibres: Fibre[] = [
    { fibre: "cotton", percent: 90 },
    { fibre: "silk", percent: 10, role: "decoration" },
  ];
  expect(texts(labelOf("towel", fibres, { area: 12_000 }).fibre.lines)).toEqual([
    "100% Cotton, Exclusive of Decoration",
  ]);
  expect(labelOf("towel", fibres, {}).refusals[0]?.words).toContain("how much of the surface");
});

// 16 CFR 303.33: one step back is the fibre for a spinner.
test("yarn is spun of its fiber", () => {
  const origin = { ...emptyDetails.origin, materials: "imported" as const };
  const label = labelOf("yarn", [{ fibre: "wool", percent: 100 }], { origin });
  expect(texts(label.origin)).toEqual(["Spun in USA of imported fiber"]);
});

test("the guild stands in for a member without a name, also where no name is asked for", () => {
  const label = labelOf("towel", [{ fibre: "cotton", percent: 100 }], {}, "australia");
  expect(label.identity).toEqual(["Alder Creek Weavers"]);
});
