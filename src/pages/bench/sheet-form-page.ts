import { mostFibres } from "../../contract/label.ts";
import { mostRuns, mostSheetYarns, mostStripes } from "../../contract/warp-sheet.ts";
import type { Reply, Request } from "../../plugins/types.ts";
import { fibreList } from "../../rules/fibre.ts";
import type { Problem } from "../../rules/problem.ts";
import { yarnSystems } from "../../rules/weave/yarn-number.ts";
import { type Fields, textOf, tickedOf } from "../items/fields.ts";
import { systemLabels } from "../items/label-words.ts";
import { benchNav } from "./bench-nav.ts";
import { unitsOf } from "./sheet-measures.ts";

/** How many rows of each list stand open, and the most there can be. */
export const rowFields = {
  yarn: { field: "yarnRows", most: mostSheetYarns },
  warp: { field: "warpRows", most: mostStripes },
  run: { field: "runRows", most: mostRuns },
} as const;

export type RowList = keyof typeof rowFields;

export function rowsShown(values: Fields, list: RowList): number {
  const { field, most } = rowFields[list];
  const text = textOf(values, field);
  const least = list === "warp" ? 0 : 1;
  return /^\d{1,2}$/.test(text) ? Math.max(least, Math.min(Number(text), most)) : least;
}

interface FormPage {
  /** Where the form goes, and the way back. */
  action: string;
  backHref: string;
  title: string;
  values: Fields;
  problem?: Problem | undefined;
  /** The field of a row that was just added. */
  focus?: string | undefined;
}

export async function sheetFormPage(request: Request, reply: Reply, page: FormPage) {
  const { values, problem } = page;
  const units = unitsOf(values);
  const metric = units === "metric";
  const data = {
    ...page,
    rooms: benchNav("/bench"),
    measuredOptions,
    ...{ units, metric, otherUnits: metric ? "inch" : "metric" },
    otherWords: metric ? "Show in inches" : "Show in centimetres",
    unitLength: metric ? "cm" : "in",
    unitDensity: metric ? "per cm" : "per in",
    unitArea: metric ? "g/m²" : "oz/sq ft",
    ...rowsOf(values, problem),
    ...(await choicesOf(request, values)),
    hidden: [...Object.values(rowFields).map(({ field }) => field), "shown", "was", "version"].map(
      (name) => ({ name, value: textOf(values, name) }),
    ),
  };
  return reply.page("bench/sheet-form", data, problem?.status ?? 200);
}

const range = (length: number) => Array.from({ length }, (_, row) => row);

/** The rows of the form, with those parts open that say something or have a fault. */
function rowsOf(values: Fields, problem: Problem | undefined) {
  const faults = (problem?.errors ?? []).map(({ field }) => field);
  const open = (at: string, cells: readonly string[]) =>
    cells.some(
      (cell) =>
        textOf(values, `${at}${cell}`) !== "" ||
        faults.some((field) => field.startsWith(`${at}${cell}`)),
    );
  const yarns = range(rowsShown(values, "yarn")).map((row) => {
    const name = `yarns.${row}`;
    return {
      ...{ row, name, number: row + 1, first: row === 0 },
      ...blendRows(values, `${name}.blend`, open),
      moreOpen: open(`${name}.`, ["yardage", "price", "have", "soldBy"]),
    };
  });
  const runs = range(rowsShown(values, "run")).map((row) => {
    const name = `runs.${row}`;
    const wefts = range(2).map((weft) => {
      const at = `${name}.wefts.${weft}`;
      const ragOpen = open(`${at}.`, ["weight", "stripWidth", "clothWidth"]);
      return { name: at, ragOpen };
    });
    return {
      ...{ row, name, number: row + 1, first: row === 0 },
      weft: wefts[0],
      secondWeft: { ...wefts[1], open: open(`${name}.wefts.1.`, ["yarn", "picks", "weight"]) },
      moreOpen: faults.some((field) => /\.(hems|fringe|weaving|finishing)$/.test(field)),
    };
  });
  const stripes = rowsShown(values, "warp");
  return {
    ...{ yarns, runs },
    stripes: range(Math.max(2, stripes)).map((row) => ({ name: `warp.${row}`, number: row + 1 })),
    stripesOpen: stripes > 0 || open("warp.", ["0.yarn", "0.ends", "1.yarn", "1.ends"]),
    allowancesOpen: faults.some((field) => allowances.test(field)),
    moreYarns: yarns.length < mostSheetYarns,
    moreRuns: runs.length < mostRuns,
    moreStripes: Math.max(2, stripes) < mostStripes,
  };
}

/** Asked at every length, since the two are a fifth apart and nobody can tell them by looking. */
const measuredOptions = [
  {
    value: "loom",
    label: "On the loom",
    hint: "As you measure it under tension. It holds take-up, shrinkage and hems already.",
  },
  {
    value: "finished",
    label: "Finished",
    hint: "Washed and hemmed. It is divided by what take-up and shrinkage leave: with 10 % and 10 % you weave 23 % more, not 20 %.",
  },
];

const allowances =
  /^(takeUp|shrinkage|drawIn|widthShrinkage|gap|sampling|sampleRun|loomWaste|haveWarp|setUp)/;

/** One fibre stands open, the others behind a line; trade names that a sheet brought travel along. */
function blendRows(
  values: Fields,
  name: string,
  open: (at: string, cells: readonly string[]) => boolean,
) {
  const filled = range(mostFibres).findLast((row) => open(`${name}.${row}.`, ["fibre", "percent"]));
  const rows = range(Math.min(mostFibres, Math.max(4, (filled ?? -1) + 2)));
  const fibreAt = (row: number) => ({ name: `${name}.${row}`, number: row + 1 });
  const kept = range(mostFibres).flatMap((row) =>
    ["brand", "role", "bamboo", "reclaimed"].map((cell) => `${name}.${row}.${cell}`),
  );
  return {
    blend: rows.slice(0, 1).map(fibreAt),
    moreBlend: rows.slice(1).map(fibreAt),
    moreBlendOpen: (filled ?? 0) > 0,
    kept: kept
      .map((cell) => ({ name: cell, value: textOf(values, cell) }))
      .filter(({ value }) => value !== ""),
  };
}

const weightUnits = [
  { value: "oz", label: "ounces" },
  { value: "lb", label: "pounds" },
  { value: "g", label: "grams" },
  { value: "kg", label: "kilograms" },
];
const lengthUnits = [
  { value: "yd", label: "yards" },
  { value: "m", label: "metres" },
  { value: "ft", label: "feet" },
  { value: "in", label: "inches" },
  { value: "cm", label: "centimetres" },
];
const usualPers = [
  { value: "1000 lb", label: "a pound" },
  { value: "1000 oz", label: "an ounce" },
  { value: "1000 kg", label: "a kilogram" },
  { value: "100000 g", label: "100 grams" },
];

async function choicesOf(request: Request, values: Fields) {
  const kinds = await request.server.parts.db.kind.findMany({ orderBy: { position: "asc" } });
  const nameOf = (list: string, row: number) => textOf(values, `${list}.${row}.name`);
  const chosen = range(mostRuns).map((row) => textOf(values, `runs.${row}.kind`));
  return {
    kinds: kinds
      .filter(({ active, code }) => active || chosen.includes(code))
      .map(({ code, name }) => ({ value: code, label: name })),
    fibres: fibreList.map(({ code, name }) => ({ value: code, label: name })),
    systems: yarnSystems.map((value) => ({ value, label: systemLabels[value] })),
    yarnOptions: range(rowsShown(values, "yarn")).map((row) => ({
      value: String(row),
      label: `${row + 1}: ${nameOf("yarns", row) || "not named yet"}`,
    })),
    runOptions: range(rowsShown(values, "run")).map((row) => ({
      value: String(row),
      label: nameOf("runs", row) || `Piece ${row + 1}`,
    })),
    ...{ weightUnits, lengthUnits },
    pers: [...usualPers, ...otherPers(values)],
  };
}

/** A price for another amount, such as 8 oz, comes with a sheet from the API and stays. */
function otherPers(values: Fields) {
  const found = range(mostSheetYarns).flatMap((row) => tickedOf(values, `yarns.${row}.per`));
  return [...new Set(found)]
    .map((value) => /^(\d{1,9}) (oz|lb|g|kg)$/.exec(value))
    .filter((match) => match !== null)
    .map(([value, thousandths, unit]) => ({
      value,
      label: `${Number(thousandths) / 1_000} ${unit}`,
    }))
    .filter(({ value }) => !usualPers.some((usual) => usual.value === value));
}
