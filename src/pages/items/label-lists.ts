import { mostFibres, mostParts, mostYarns } from "../../contract/label.ts";
import { type CareStep, careSteps, stepOrder } from "../../rules/labels/care/levels.ts";
import type { Pack } from "../../rules/labels/pack.ts";
import type { Problem } from "../../rules/problem.ts";
import { type Fields, tickedOf } from "./fields.ts";
import {
  careLabels,
  craftLabels,
  finishLabels,
  optionsFrom,
  originLabels,
  roleLabels,
  sectionLabels,
  stepLabels,
  systemLabels,
} from "./label-words.ts";

/** A list that always stands at something says nothing by itself. */
const alwaysSent = /\.(place|unit|system)$/;

const isFilled = (values: Fields, name: string): boolean =>
  !alwaysSent.test(name) && tickedOf(values, name).some((value) => value.trim() !== "");

/** What "More about the label" offers under the law of a country. */
export function labelLists(pack: Pack, values: Fields, problem: Problem | undefined) {
  const isTouched = (start: string) =>
    Object.keys(values).some((name) => name.startsWith(start) && isFilled(values, name)) ||
    (problem?.errors ?? []).some(({ field }) => field.startsWith(start));
  const rowsOf = (name: string, most: number, least: number, filledBy: string) => {
    const last = Array.from({ length: most }, (_, row) => row).findLast((row) =>
      isTouched(`${name}.${row}.${filledBy}`),
    );
    return Array.from({ length: Math.max(least, (last ?? -1) + 1) }, (_, row) => ({
      row,
      number: row + 1,
      name: `${name}.${row}`,
    }));
  };
  const fibreRows = (name: string, least: number) => rowsOf(name, mostFibres, least, "");
  return {
    open: isTouched("label."),
    moreFibresOpen: [2, 3, 4, 5, 6, 7].some((row) =>
      ["fibre", "percent"].some((cell) => isTouched(`fibres.${row}.${cell}`)),
    ),
    moreFibres: fibreRows("fibres", 5).slice(2),
    fibres: fibreRows("fibres", 5),
    parts: rowsOf("label.parts", mostParts, 1, "").map((part) => ({
      ...part,
      fibres: fibreRows(`${part.name}.fibres`, 2),
    })),
    yarns: Array.from({ length: mostYarns }, (_, row) => ({
      row,
      number: row + 1,
      name: `label.yarns.${row}`,
      fibres: fibreRows(`label.yarns.${row}.blend`, 3),
    })),
    careOpen: isTouched("label.care"),
    yarnsOpen: isTouched("label.yarns"),
    partsOpen: isTouched("label.parts") || isTouched("label.section"),
    brandsOpen: ["brand", "role", "bamboo", "reclaimed"].some((cell) =>
      Array.from({ length: mostFibres }, (_, row) => `fibres.${row}.${cell}`).some(isTouched),
    ),
    choosesSmall: pack.fibre.small.way !== "lumped",
    smallWords: pack.fibre.small.words,
    hasUnion: pack.fibre.union !== null,
    hasAnimalParts: pack.fibre.animalParts !== null,
    hasOrigin: Object.keys(pack.origin.print).length > 0,
    originWords: pack.origin.words,
    testedWords: pack.care.basis.words,
    ...choices,
  };
}

const levelsOf = (step: CareStep) => ({
  name: `label.care.${step}`,
  label: stepLabels[step],
  options: careSteps[step].map((value) => ({
    value,
    label: (careLabels[step] as Record<string, string>)[value] ?? value,
  })),
});

const unitWords = { g: "grams", oz: "ounces", lb: "pounds", m: "metres", yd: "yards" };

const choices = {
  steps: stepOrder.map(levelsOf),
  roles: optionsFrom(roleLabels),
  sections: optionsFrom(sectionLabels),
  finishes: optionsFrom(finishLabels),
  crafts: optionsFrom(craftLabels),
  origins: optionsFrom(originLabels),
  systems: optionsFrom(systemLabels),
  places: [
    { value: "warp", label: "Warp" },
    { value: "weft", label: "Weft" },
  ],
  units: Object.entries(unitWords).map(([value, label]) => ({ value, label })),
};
