import { checkFibres, type Fibre } from "../fibre.ts";
import type { FieldError } from "../problem.ts";
import type { FibreContents, FibreEntry, FibrePart } from "./contents.ts";
import type { LabelDetails, LabelYarn } from "./details.ts";
import { type FibreCode, familyOf, isFibreCode } from "./fibres.ts";
import type { Language } from "./language.ts";
import type { Pack } from "./pack.ts";
import { poolYarns, type YarnUse } from "./pooling.ts";

/** An item as far as its label goes; `kind` is a kind's code, or the group its guild put it in. */
export interface LabelledItem {
  title: string;
  kind: string;
  fibres: readonly Fibre[];
  label: LabelDetails;
}

const thousandths = 1_000;

const entriesOf = (fibres: readonly Fibre[]): FibreEntry[] =>
  fibres.map(({ fibre, percent, ...more }) => ({
    ...more,
    fibre: fibre as FibreCode,
    share: percent * thousandths,
  }));

const listsOf = ({ fibres, label }: LabelledItem): Fibre[] => [
  ...fibres,
  ...label.parts.flatMap((part) => part.fibres),
  ...label.yarns.flatMap(({ blend }) => blend),
];

/** Every fibre that is named anywhere in an item, once: the most delicate one decides the care. */
export const fibresIn = (item: LabelledItem): FibreCode[] => [
  ...new Set(
    listsOf(item)
      .map(({ fibre }) => fibre)
      .filter(isFibreCode),
  ),
];

/** Whether any wool or hair of an item was won back from cloth. */
export const holdsReclaimed = (item: LabelledItem): boolean =>
  listsOf(item).some(
    ({ fibre, reclaimed }) =>
      fibre === "recycled-wool" ||
      (reclaimed === true && isFibreCode(fibre) && familyOf(fibre) === "wool"),
  );

/** What is wrong with the lists themselves, before any law is asked, field by field. */
export function checkLists({ fibres, label }: LabelledItem): FieldError[] {
  const errors = label.parts.flatMap((part, index) =>
    checkFibres(part.fibres, `label.parts.${index}.fibres`),
  );
  if (label.yarns.length === 0) return errors;
  if (fibres.length > 0)
    errors.push({
      field: "fibres",
      message: "Yarns are listed below. Leave the percentages empty: they are worked out.",
    });
  label.yarns.forEach(({ blend, amount, number }, index) => {
    const field = `label.yarns.${index}`;
    errors.push(...checkFibres(blend, `${field}.blend`));
    const isLength = amount.unit === "m" || amount.unit === "yd";
    if (isLength && number === null)
      errors.push({
        field: `${field}.number`,
        message: "A length needs the yarn's number, as it stands on the cone.",
      });
  });
  return errors;
}

const useOf = ({ amount: { unit, thousandths: figure }, number, blend }: LabelYarn): YarnUse => ({
  amount:
    (unit === "m" || unit === "yd") && number
      ? { unit, thousandths: figure, number }
      : { unit: unit as "g", thousandths: figure },
  blend: blend.map(({ fibre, percent, ...more }) => ({
    ...more,
    fibre: fibre as FibreCode,
    percent: percent * thousandths,
  })),
});

/** The fibres of a piece from its yarns, in the ratio of their weights. */
export const pooledYarns = (yarns: readonly LabelYarn[]) =>
  poolYarns(yarns.map(useOf), "label.yarns");

/** The contents as the rules of a country read them, or what is wrong with the yarns. */
export function contentsOf(
  item: LabelledItem,
  pack: Pack,
  languages: readonly Language[],
): { contents: FibreContents; errors: FieldError[] } {
  const { label } = item;
  const pooled = label.yarns.length > 0 ? pooledYarns(label.yarns) : null;
  const errors = pooled && !pooled.ok ? pooled.problem.errors : [];
  const section = label.section || (label.parts.length > 0 ? "body" : undefined);
  const main: FibrePart = {
    ...(section ? { section } : {}),
    ...(label.area > 0 ? { area: label.area } : {}),
    ...(label.cottonWarpLinenWeft ? { cottonWarpLinenWeft: true } : {}),
    fibres: pooled?.ok ? pooled.value : entriesOf(item.fibres),
    sharesAre: pooled ? "weight" : "percent",
  };
  const others = label.parts.map(
    (part): FibrePart => ({
      section: part.section,
      fibres: entriesOf(part.fibres),
      sharesAre: "percent",
      ...(label.area > 0 ? { area: label.area } : {}),
    }),
  );
  const contents: FibreContents = {
    ...{ pack, languages, kind: item.kind, parts: [main, ...others] },
    ...(label.smallFibres ? { smallFibres: label.smallFibres } : {}),
    ...{ nameOrnament: label.nameOrnament, animalParts: label.animalParts },
  };
  return { contents, errors };
}
