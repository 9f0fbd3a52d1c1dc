import { checkFibres } from "../fibre.ts";
import { isLess, nothing } from "../fraction.ts";
import type { FieldError } from "../problem.ts";
import { endsOf, finishedLength } from "./lengths.ts";
import type { SheetRun, SheetWeft, SheetYarn, WarpSheet } from "./sheet.ts";
import { isOnlyWeighed } from "./yarn-convert.ts";

const whole = 100_000;

/** What keeps a sheet from being worked out, every field at once; empty when nothing does. */
export function checkSheet(sheet: WarpSheet): FieldError[] {
  const errors: FieldError[] = [];
  const wrong = (field: string, message: string) => errors.push({ field, message });
  if (sheet.sett.thousandths <= 0) wrong("sett", "Say how many ends there are side by side.");
  if (sheet.width.thousandths <= 0) wrong("width", "Say how wide the warp is in the reed.");
  for (const name of ["takeUp", "shrinkage", "drawIn", "widthShrinkage"] as const)
    if (sheet[name] < 0 || sheet[name] >= whole) wrong(name, "Type a percentage from 0 to 99.");
  if (sheet.yarns.length === 0) wrong("yarns.0.name", "Say which yarn you weave with.");
  if (sheet.warp.length === 0) wrong("warp.0.yarn", "Say which yarn the warp is.");
  if (sheet.runs.length === 0) wrong("runs.0.name", "Say what you weave on this warp.");
  if (sheet.sampleRun !== null && !sheet.runs[sheet.sampleRun])
    wrong("sampleRun", "Choose one of the pieces of this sheet.");
  errors.push(...sheet.yarns.flatMap((yarn, index) => yarnErrors(yarn, `yarns.${index}`)));
  errors.push(...warpErrors(sheet));
  errors.push(...sheet.runs.flatMap((run, index) => runErrors(sheet, run, `runs.${index}`)));
  // Lengths can be worked out only from shares that leave something.
  if (errors.length === 0)
    errors.push(...sheet.runs.flatMap((run, index) => lengthErrors(sheet, run, `runs.${index}`)));
  return errors;
}

function yarnErrors({ name, number, yardage, blend, price, soldBy }: SheetYarn, at: string) {
  const errors = checkFibres(blend, `${at}.blend`);
  const wrong = (field: string, message: string) =>
    errors.push({ field: `${at}.${field}`, message });
  if (name === "") wrong("name", "Give the yarn a name.");
  if (number && !(number.thousandths > 0 && number.plies > 0))
    wrong("number", "Type the yarn's number and its plies, for example 8 and 2.");
  if (yardage && yardage.thousandths <= 0) wrong("yardage", "Type a length above zero.");
  if (price && price.per.thousandths <= 0)
    wrong("price.per", "Say how much yarn that price is for.");
  if (soldBy && soldBy.thousandths <= 0) wrong("soldBy", "Type a weight above zero.");
  return errors;
}

const needsLength =
  "Give this yarn its number, or the length off its cone: it is counted by length.";

function warpErrors(sheet: WarpSheet): FieldError[] {
  const errors: FieldError[] = [];
  const rests = sheet.warp.filter(({ ends }) => ends === null).length;
  for (const [index, { yarn, ends }] of sheet.warp.entries()) {
    const known = sheet.yarns[yarn];
    const field = `warp.${index}`;
    if (!known) errors.push({ field: `${field}.yarn`, message: "Choose one of the yarns above." });
    else if (isOnlyWeighed(known))
      errors.push({ field: `yarns.${yarn}.number`, message: needsLength });
    if (ends !== null && ends < 1)
      errors.push({ field: `${field}.ends`, message: "Type a number of ends, or leave it empty." });
    if (ends === null && rests > 1)
      errors.push({
        field: `${field}.ends`,
        message: "Only one yarn of the warp can take the rest. Count the ends of the others.",
      });
  }
  const none = errors.length === 0 && endsOf(sheet).findIndex(({ ends }) => ends < 1);
  if (typeof none === "number" && none >= 0)
    errors.push({
      field: `warp.${none}.ends`,
      message: "The other yarns take up all the ends already. Make the warp wider, or count again.",
    });
  return errors;
}

function runErrors({ yarns }: WarpSheet, run: SheetRun, at: string): FieldError[] {
  const errors: FieldError[] = [];
  const wrong = (field: string, message: string) =>
    errors.push({ field: `${at}.${field}`, message });
  if (run.name === "") wrong("name", "Say what the piece is, for example: towel.");
  if (run.count < 1) wrong("count", "Type how many pieces, from 1.");
  if (run.length.thousandths <= 0) wrong("length", "Type how long one piece is.");
  if (run.wefts.length === 0) wrong("wefts.0.yarn", "Say what the weft is.");
  for (const [index, weft] of run.wefts.entries())
    errors.push(...weftErrors(yarns, weft, `${at}.wefts.${index}`));
  return errors;
}

function weftErrors(yarns: readonly SheetYarn[], weft: SheetWeft, at: string): FieldError[] {
  const yarn = yarns[weft.yarn];
  if (!yarn) return [{ field: `${at}.yarn`, message: "Choose one of the yarns above." }];
  if (weft.by === "area")
    return weft.weight.thousandths > 0
      ? []
      : [{ field: `${at}.weight`, message: "Type how heavy the rags lie in the cloth." }];
  const errors: FieldError[] = [];
  if (weft.picks.thousandths <= 0)
    errors.push({ field: `${at}.picks`, message: "Type how many picks you weave." });
  if (isOnlyWeighed(yarn))
    errors.push({ field: `yarns.${weft.yarn}.number`, message: needsLength });
  return errors;
}

function lengthErrors(sheet: WarpSheet, run: SheetRun, at: string): FieldError[] {
  if (isLess(nothing, finishedLength(sheet, run))) return [];
  const message = "The hems and what the cloth loses leave nothing of this length.";
  return [{ field: `${at}.length`, message }];
}
