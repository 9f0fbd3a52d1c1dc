import {
  mostRuns,
  mostSheetYarns,
  mostStripes,
  mostWefts,
  newSheetShape,
  type SheetInput,
} from "../../contract/warp-sheet.ts";
import type { FieldError, Result } from "../../rules/problem.ts";
import { ok } from "../../rules/problem.ts";
import { readTypedNumber } from "../../rules/typed-number.ts";
import type { SheetRun, SheetWeft, WarpSheet } from "../../rules/weave/sheet.ts";
import { sheetErrors } from "../../rules/weave/sheet-errors.ts";
import { readHours } from "../../rules/weave/typed-hours.ts";
import { type Fields, filledRows, textOf, ticked } from "../items/fields.ts";
import { wrongFields } from "../items/form.ts";
import { placeError } from "./sheet-errors.ts";
import { measureAt, type Typed, typedIn, unitsOf } from "./sheet-measures.ts";
import { measureWithUnit, readYarn } from "./sheet-yarns.ts";

/** Which rows of the form the entries of the sheet came from. */
export interface SheetRows {
  yarns: number[];
  warp: number[];
  runs: number[];
  /** For each run, the rows of its wefts. */
  wefts: number[][];
  /** For each yarn, the rows of its blend. */
  blends: number[][];
}

/** Reads the whole form; what is wrong is named at its own field, all at once. */
export function readSheet(fields: Fields, currency: string): Result<SheetInput> {
  const { sheet, rows, errors } = sheetOf(fields, currency);
  const read = newSheetShape.safeParse({ name: textOf(fields, "name"), sheet });
  const found = read.success
    ? sheetErrors(read.data.sheet)
    : read.error.issues.map(({ path, message }) => ({
        field: path.join(".").replace(/^sheet\./, ""),
        message,
      }));
  const all = [...errors, ...found.map((error) => placeError(error, rows))];
  if (read.success && all.length === 0) return ok(read.data);
  return wrongFields(inFormOrder(all));
}

const formOrder = ["name", "runs", "yarns", "sett", "width", "warp"];

/** The summary names the fields in the order in which they stand on the form. */
function inFormOrder(errors: readonly FieldError[]): FieldError[] {
  const place = ({ field }: FieldError) => {
    const found = formOrder.indexOf(field.split(".")[0] ?? "");
    return found === -1 ? formOrder.length : found;
  };
  return [...errors].sort((one, other) => place(one) - place(other));
}

function sheetOf(fields: Fields, currency: string) {
  const typed = typedIn(fields);
  const text = (name: string) => textOf(fields, name);
  const rows = rowsIn(fields);
  const yarns = rows.yarns.map((row) => readYarn(fields, `yarns.${row}`, currency));
  const warp = rows.warp.map((row) => ({
    yarn: yarnAt(fields, `warp.${row}.yarn`, rows.yarns),
    ends: text(`warp.${row}.ends`) === "" ? null : whole(text(`warp.${row}.ends`)),
  }));
  const length = (name: string) => measureAt(fields, typed, name, "length");
  const sample = text("sampleRun");
  const sheet = {
    units: unitsOf(fields),
    yarns: yarns.map(({ yarn }) => yarn),
    // A warp of one yarn needs no row of its own.
    warp: warp.length === 0 ? [{ yarn: 0, ends: null }] : warp,
    sett: measureAt(fields, typed, "sett", "density"),
    width: length("width"),
    floatingSelvedges: ticked(fields, "floatingSelvedges"),
    runs: rows.runs.map((row, index) =>
      readRun(fields, typed, `runs.${row}`, { yarns: rows.yarns, wefts: rows.wefts[index]! }),
    ),
    ...shares(fields, ["takeUp", "shrinkage", "drawIn", "widthShrinkage"]),
    gap: length("gap"),
    sampling: length("sampling"),
    sampleRun: sample === "" ? null : rows.runs.indexOf(whole(sample)),
    loomWaste: length("loomWaste"),
    setUp: readHours(text("setUp")) ?? Number.NaN,
    setUpBy: text("setUpBy"),
    haveWarp: measureWithUnit(fields, "haveWarp"),
    notes: text("notes"),
  };
  const blends = yarns.map(({ blendRows }) => blendRows);
  const errors = yarns.flatMap((yarn) => yarn.errors);
  return { sheet: sheet as WarpSheet, rows: { ...rows, blends }, errors };
}

type ShareName = "takeUp" | "shrinkage" | "drawIn" | "widthShrinkage";

const shares = (fields: Fields, names: readonly ShareName[]) =>
  Object.fromEntries(names.map((name) => [name, shareAt(fields, name)])) as Record<
    ShareName,
    number
  >;

/** "7.5" and "7.5 %" are 7500 thousandths of a percent; nothing is no loss. */
export function shareAt(fields: Fields, name: string): number {
  const text = textOf(fields, name).normalize("NFKC").replace(/\s*%$/, "");
  if (text === "") return 0;
  const typed = readTypedNumber(text, 3);
  if (typeof typed === "string" || typed.negative) return Number.NaN;
  if (typed.fraction.length > 3 || typed.whole.length > 3) return Number.NaN;
  return Number(typed.whole + typed.fraction.padEnd(3, "0"));
}

const whole = (text: string): number =>
  /^\d{1,6}$/.test(text.normalize("NFKC")) ? Number(text.normalize("NFKC")) : Number.NaN;

/** A list names a yarn by its row; an empty or foreign choice is -1, which no sheet takes. */
const yarnAt = (fields: Fields, name: string, yarnRows: readonly number[]): number =>
  yarnRows.indexOf(whole(textOf(fields, name)));

function rowsIn(fields: Fields): Omit<SheetRows, "blends"> {
  const says = (at: string, cells: readonly string[]) =>
    cells.some((cell) => textOf(fields, `${at}.${cell}`) !== "");
  // What stands first is always meant: a sheet without a yarn or a piece is no sheet.
  const kept = (at: string, row: number, cells: readonly string[]) =>
    row === 0 || (!ticked(fields, `${at}.drop`) && says(at, cells));
  const runs = filledRows(mostRuns, (row) => kept(`runs.${row}`, row, ["name", "length", "kind"]));
  return {
    yarns: filledRows(mostSheetYarns, (row) => kept(`yarns.${row}`, row, yarnCells)),
    warp: filledRows(mostStripes, (row) => says(`warp.${row}`, ["yarn", "ends"])),
    runs,
    wefts: runs.map((row) =>
      filledRows(
        mostWefts,
        (weft) => weft === 0 || says(`runs.${row}.wefts.${weft}`, ["yarn", "picks", "weight"]),
      ),
    ),
  };
}

const yarnCells = ["name", "number", "yardage", "price", "have", "blend.0.fibre"];

function readRun(
  fields: Fields,
  typed: Typed,
  at: string,
  rows: { yarns: readonly number[]; wefts: readonly number[] },
): SheetRun {
  const text = (cell: string) => textOf(fields, `${at}.${cell}`);
  const length = (cell: string) => measureAt(fields, typed, `${at}.${cell}`, "length");
  return {
    name: text("name"),
    count: text("count") === "" ? 1 : whole(text("count")),
    length: { ...length("length"), measured: text("measured") as "loom" },
    hems: length("hems"),
    fringe: length("fringe"),
    wefts: rows.wefts.map((weft) => readWeft(fields, typed, `${at}.wefts.${weft}`, rows.yarns)),
    weaving: readHours(text("weaving")) ?? Number.NaN,
    finishing: readHours(text("finishing")) ?? Number.NaN,
    kind: text("kind"),
  };
}

/** A weft with a weight by area is rag; its picks count only how much there is to cut. */
function readWeft(
  fields: Fields,
  typed: Typed,
  at: string,
  yarnRows: readonly number[],
): SheetWeft {
  const says = (cell: string) => textOf(fields, `${at}.${cell}`) !== "";
  const yarn = yarnAt(fields, `${at}.yarn`, yarnRows);
  const picks = measureAt(fields, typed, `${at}.picks`, "density");
  const extra = shareAt(fields, `${at}.extra`);
  if (!says("weight")) return { by: "picks", yarn, picks, extra };
  const weight = measureAt(fields, typed, `${at}.weight`, "area");
  if (!says("stripWidth") && !says("clothWidth") && !says("picks"))
    return { by: "area", yarn, weight };
  const width = measureAt(fields, typed, `${at}.stripWidth`, "length");
  const cloth = measureAt(fields, typed, `${at}.clothWidth`, "length");
  return { by: "area", yarn, weight, strips: { picks, extra, width, cloth } };
}
