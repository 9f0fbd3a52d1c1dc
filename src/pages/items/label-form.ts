import { mostParts } from "../../contract/label.ts";
import { type CareLevels, stepOrder } from "../../rules/labels/care/levels.ts";
import type { LabelDetails, LabelPart } from "../../rules/labels/details.ts";
import { emptyDetails } from "../../rules/labels/details.ts";
import type { FieldError } from "../../rules/problem.ts";
import { fibreValues, inItsRow, readFibreRows } from "./fibre-rows.ts";
import {
  type Fields,
  filledRows,
  textOf,
  thousandthsOf,
  thousandthsText,
  ticked,
  tickedOf,
} from "./fields.ts";
import { readYarnRows, yarnError, yarnValues } from "./yarn-rows.ts";

export interface ReadLabel {
  label: LabelDetails;
  /** Names the form's own field for a fault of the shape or the rules. */
  place: (error: FieldError) => FieldError;
}

/**
 * Reads "More about the label". Choices are taken as they came: the shape refuses what no list
 * offers. Answers to caution questions have a form of their own and are passed through.
 */
export function readLabel(fields: Fields, kept: Partial<LabelDetails> = {}): ReadLabel {
  const text = (name: string) => textOf(fields, `label.${name}`);
  const parts = readParts(fields);
  const yarns = readYarnRows(fields);
  const area = text("area");
  const label = {
    ...emptyDetails,
    ...{ answers: kept.answers ?? {}, cloth: kept.cloth ?? null },
    section: text("section"),
    parts: parts.list,
    area: area === "" ? 0 : thousandthsOf(area.replace(/\s*%$/, "")) || -1,
    yarns: yarns.yarns,
    smallFibres: text("smallFibres"),
    nameOrnament: ticked(fields, "label.nameOrnament"),
    animalParts: ticked(fields, "label.animalParts"),
    cottonWarpLinenWeft: ticked(fields, "label.cottonWarpLinenWeft"),
    finishes: tickedOf(fields, "label.finishes"),
    white: ticked(fields, "label.white"),
    care: { chosen: careOf(fields), tested: ticked(fields, "label.care.tested") },
    origin: {
      craft: text("origin.craft"),
      materials: text("origin.materials"),
      madeAbroadIn: text("origin.madeAbroadIn"),
    },
  };
  const place = ({ field, message }: FieldError) => {
    const named = { field: field.replace("care.chosen.", "care."), message };
    return yarnError(partError(named, parts), yarns);
  };
  return { label: label as LabelDetails, place };
}

const careOf = (fields: Fields): Partial<CareLevels> =>
  Object.fromEntries(
    stepOrder
      .map((step) => [step, textOf(fields, `label.care.${step}`)])
      .filter(([, level]) => level !== ""),
  );

interface ReadParts {
  list: LabelPart[];
  rows: number[];
  fibreRows: number[][];
}

function readParts(fields: Fields): ReadParts {
  const fibresAt = (row: number) => readFibreRows(fields, `label.parts.${row}.fibres`);
  const sectionAt = (row: number) => textOf(fields, `label.parts.${row}.section`);
  const rows = filledRows(
    mostParts,
    (row) => sectionAt(row) !== "" || fibresAt(row).fibres.length > 0,
  );
  const list = rows.map((row) => ({
    section: sectionAt(row) as LabelPart["section"],
    fibres: fibresAt(row).fibres,
  }));
  return { list, rows, fibreRows: rows.map((row) => fibresAt(row).rows) };
}

function partError(error: FieldError, { rows, fibreRows }: ReadParts): FieldError {
  let placed = error;
  fibreRows.forEach((list, index) => {
    placed = placed === error ? inItsRow(error, `label.parts.${index}.fibres`, list) : placed;
  });
  return inItsRow(placed, "label.parts", rows);
}

/** The details as they stand in the fields of the form. */
export function labelValues(label: LabelDetails): Record<string, string | string[]> {
  const box = (yes: boolean) => (yes ? "yes" : "");
  return {
    "label.section": label.section,
    "label.area": label.area > 0 ? thousandthsText(label.area) : "",
    "label.smallFibres": label.smallFibres,
    "label.nameOrnament": box(label.nameOrnament),
    "label.animalParts": box(label.animalParts),
    "label.cottonWarpLinenWeft": box(label.cottonWarpLinenWeft),
    "label.finishes": label.finishes,
    "label.white": box(label.white),
    "label.care.tested": box(label.care.tested),
    "label.origin.craft": label.origin.craft,
    "label.origin.materials": label.origin.materials,
    "label.origin.madeAbroadIn": label.origin.madeAbroadIn,
    ...Object.fromEntries(
      Object.entries(label.care.chosen).map(([step, level]) => [`label.care.${step}`, level]),
    ),
    ...Object.fromEntries(
      label.parts.flatMap(({ section, fibres }, row): [string, string][] => [
        [`label.parts.${row}.section`, section],
        ...fibreValues(fibres, `label.parts.${row}.fibres`),
      ]),
    ),
    ...Object.fromEntries(yarnValues(label.yarns)),
  };
}
