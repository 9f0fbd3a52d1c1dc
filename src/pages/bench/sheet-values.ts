import type { Measure } from "../../rules/weave/measure.ts";
import type { SheetRun, SheetWeft, WarpSheet } from "../../rules/weave/sheet.ts";
import { hoursText } from "../../rules/weave/typed-hours.ts";
import { thousandthsText } from "../items/fields.ts";
import { measureValues, type Units } from "./sheet-measures.ts";
import { withUnitValues, yarnValues } from "./sheet-yarns.ts";

type Named = [string, Measure];

const usualExtra = "5";
const shareText = (share: number): string => (share === 0 ? "0" : thousandthsText(share));
/** A preset without hours of its own leaves the field empty; so does a sheet. */
const timeText = (minutes: number): string => (minutes === 0 ? "" : hoursText(minutes));

/** A sheet as it stands in the fields of its form, shown in these units. */
export function sheetValues(
  { name, sheet }: { name: string; sheet: WarpSheet },
  units: Units,
  currency: string,
): Record<string, string> {
  const metric = units === "metric";
  return {
    name,
    ...Object.assign(
      {},
      ...sheet.yarns.map((yarn, row) => yarnValues(yarn, `yarns.${row}`, currency, metric)),
    ),
    ...Object.assign({}, ...stripeRows(sheet)),
    floatingSelvedges: sheet.floatingSelvedges ? "yes" : "",
    ...Object.assign({}, ...sheet.runs.map((run, row) => runTexts(run, `runs.${row}`))),
    takeUp: shareText(sheet.takeUp),
    shrinkage: shareText(sheet.shrinkage),
    drawIn: shareText(sheet.drawIn),
    widthShrinkage: shareText(sheet.widthShrinkage),
    sampleRun: sheet.sampleRun === null ? "" : String(sheet.sampleRun),
    setUp: timeText(sheet.setUp),
    setUpBy: sheet.setUpBy,
    ...Object.fromEntries(withUnitValues("haveWarp", sheet.haveWarp, metric ? "m" : "yd")),
    notes: sheet.notes,
    ...measureValues(measuresOf(sheet), units),
    yarnRows: String(sheet.yarns.length),
    warpRows: String(stripeRows(sheet).length),
    runRows: String(sheet.runs.length),
  };
}

/** A warp of the first yarn alone is what a form without a stripe says. */
function stripeRows({ warp }: WarpSheet): Record<string, string>[] {
  const [first] = warp;
  if (warp.length === 1 && first?.yarn === 0 && first.ends === null) return [];
  return warp.map(({ yarn, ends }, row) => ({
    [`warp.${row}.yarn`]: String(yarn),
    [`warp.${row}.ends`]: ends === null ? "" : String(ends),
  }));
}

function runTexts(run: SheetRun, at: string): Record<string, string> {
  return {
    [`${at}.name`]: run.name,
    [`${at}.count`]: String(run.count),
    [`${at}.measured`]: run.length.measured,
    [`${at}.weaving`]: timeText(run.weaving),
    [`${at}.finishing`]: timeText(run.finishing),
    [`${at}.kind`]: run.kind,
    // A second weft is begun with the usual extra, whenever it comes.
    [`${at}.wefts.1.extra`]: usualExtra,
    ...Object.assign(
      {},
      ...run.wefts.map((weft, row) => ({
        [`${at}.wefts.${row}.yarn`]: String(weft.yarn),
        [`${at}.wefts.${row}.extra`]: extraText(weft),
      })),
    ),
  };
}

function extraText(weft: SheetWeft): string {
  if (weft.by === "picks") return shareText(weft.extra);
  return weft.strips ? shareText(weft.strips.extra) : "";
}

const measuresOf = (sheet: WarpSheet): Named[] => [
  ["sett", sheet.sett],
  ["width", sheet.width],
  ["gap", sheet.gap],
  ["sampling", sheet.sampling],
  ["loomWaste", sheet.loomWaste],
  ...sheet.runs.flatMap((run, row): Named[] => [
    [`runs.${row}.length`, { thousandths: run.length.thousandths, unit: run.length.unit }],
    [`runs.${row}.hems`, run.hems],
    [`runs.${row}.fringe`, run.fringe],
    ...run.wefts.flatMap((weft, index) => weftMeasures(weft, `runs.${row}.wefts.${index}`)),
  ]),
];

function weftMeasures(weft: SheetWeft, at: string): Named[] {
  if (weft.by === "picks") return [[`${at}.picks`, weft.picks]];
  const { weight, strips } = weft;
  if (!strips) return [[`${at}.weight`, weight]];
  return [
    [`${at}.weight`, weight],
    [`${at}.picks`, strips.picks],
    [`${at}.stripWidth`, strips.width],
    [`${at}.clothWidth`, strips.cloth],
  ];
}
