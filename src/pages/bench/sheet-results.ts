import { type Fraction, fraction, sumOf } from "../../rules/fraction.ts";
import { itemLabel } from "../../rules/labels/item-label.ts";
import type { LabelSetting } from "../../rules/labels/label-setting.ts";
import { decimalText, inBase, inUnit } from "../../rules/weave/measure.ts";
import { runLabel } from "../../rules/weave/run-label.ts";
import { settGuide } from "../../rules/weave/sett-guide.ts";
import type { SheetYarn, WarpSheet } from "../../rules/weave/sheet.ts";
import type { RunOutcome, SheetOutcome } from "../../rules/weave/sheet-outcome.ts";
import { metreWeight, yardsInPound } from "../../rules/weave/yarn-convert.ts";
import { plainSource } from "../items/label-panel.ts";
import { shownIn, type Units } from "./sheet-measures.ts";
import {
  areaText,
  lengthText,
  measureText,
  moneyText,
  shareText,
  sizeText,
  timeText,
  weightText,
  yarnText,
} from "./sheet-words.ts";

export interface ResultScene {
  sheet: WarpSheet;
  outcome: SheetOutcome;
  units: Units;
  guild: { currency: string; locale: string };
  setting: LabelSetting;
  /** What the label rules take a kind of goods for. */
  labelKind: (code: string) => string;
}

/** All that a sheet comes to, as the tables of its page. */
export function sheetResults(scene: ResultScene) {
  const { sheet, outcome, units, guild } = scene;
  const pieces = sheet.runs.reduce((sum, { count }) => sum + count, 0);
  return {
    figures: [
      { label: "Ends", value: String(outcome.ends), note: settWords(scene) },
      {
        label: "Warp length",
        value: yarnText(outcome.warpLength, units),
        note: lengthText(outcome.warpLength, units),
      },
      { label: "All yarn", value: weightText(outcome.totalGrams, units) },
      {
        label: "Yarn costs",
        value: outcome.totalCost ? moneyText(outcome.totalCost, guild) : "Not known",
        note: outcome.totalCost ? undefined : "A yarn has no price yet.",
      },
      { label: "Pieces", value: String(pieces) },
    ],
    yarns: outcome.needs.map((need) => yarnRow(scene, need)),
    yarnTotals: {
      weight: weightText(outcome.totalGrams, units),
      cost: outcome.totalCost ? moneyText(outcome.totalCost, guild) : "",
    },
    runs: outcome.runs.map((run, index) => runRow(scene, run, index)),
    enough: outcome.runs.some(({ fromWarp, fromYarn }) => fromWarp !== null || fromYarn !== null),
    stripes: outcome.stripes.length > 1 ? stripeRows(scene) : [],
    setts: settRows(scene),
    settHere: measureText(sheet.sett, shownIn[units].density),
    warnings: outcome.mismatches.map((one) => mismatchWords(scene, one)),
    assumed: assumptions(scene),
  };
}

const settWords = ({ sheet, units }: ResultScene): string => {
  const wide = measureText(sheet.width, shownIn[units].length);
  const floating = sheet.floatingSelvedges ? ", with 2 floating selvedges" : "";
  return `${measureText(sheet.sett, shownIn[units].density)}, ${wide} wide${floating}`;
};

const nameOf = ({ sheet }: ResultScene, yarn: number): string => sheet.yarns[yarn]?.name ?? "";

function yarnRow(scene: ResultScene, need: SheetOutcome["needs"][number]) {
  const { units, guild, sheet } = scene;
  const long = (metres: Fraction) => (metres.top === 0n ? "" : yarnText(metres, units));
  return {
    name: nameOf(scene, need.yarn),
    warp: long(need.warpMetres),
    weft: long(need.weftMetres),
    weight: weightText(need.grams, units),
    cost: need.cost ? moneyText(need.cost, guild) : "",
    buy: buyWords(need, sheet.yarns[need.yarn]!, units),
  };
}

function buyWords(
  { buyGrams, buyCones }: SheetOutcome["needs"][number],
  { soldBy }: SheetYarn,
  units: Units,
): string {
  if (buyGrams.top === 0n) return "Nothing: it is on your shelf";
  const weight = weightText(buyGrams, units);
  if (buyCones === null || soldBy === null) return weight;
  const each = measureText(soldBy, soldBy.unit);
  return `${buyCones} × ${each} (${weight} needed)`;
}

function runRow(scene: ResultScene, run: RunOutcome, index: number) {
  const { sheet, units, guild } = scene;
  const { name, count, length } = sheet.runs[index]!;
  const { making } = run;
  const minutes = [making.setUpMinutes, making.weavingMinutes, making.finishingMinutes];
  return {
    ...{ index, name, count },
    measured: length.measured === "loom" ? "as typed" : "worked out from the finished length",
    onLoom: lengthText(run.loomLength, units),
    finished: `${lengthText(run.finishedWidth, units)} × ${lengthText(run.finishedLength, units)}`,
    tagSize: sizeText(run.finishedWidth, run.finishedLength, units),
    offLoom: lengthText(run.widthOffLoom, units),
    picks: run.picks > 0 ? String(run.picks) : "",
    weight: weightText(run.grams, units),
    area: areaText(run.gramsPerSquareMetre, units),
    strips: run.strips
      ? `${yarnText(run.strips.metres, units)} of strips from ${yarnText(run.strips.clothMetres, units)} of cloth`
      : "",
    fromWarp: run.fromWarp === null ? "" : String(run.fromWarp),
    fromYarn: run.fromYarn === null ? "" : String(run.fromYarn),
    setUp: timeText(making.setUpMinutes),
    weaving: timeText(making.weavingMinutes),
    finishing: timeText(making.finishingMinutes),
    hours: timeText(sumOf(minutes)),
    materials: making.pricesKnown ? moneyText(making.materials, guild) : "Not known",
    ...labelWords(scene, run, index),
  };
}

/** The fibres of a piece exactly as its tag will say them. */
export function labelWords(
  { sheet, setting, labelKind }: Pick<ResultScene, "sheet" | "setting" | "labelKind">,
  run: RunOutcome,
  index: number,
) {
  const { kind, name } = sheet.runs[index]!;
  const item = { title: name, kind: labelKind(kind), fibres: [], label: runLabel(sheet, run) };
  const { fibre, refusals } = itemLabel(item, setting);
  return {
    label: fibre.lines.map(({ text }) => text),
    refused: refusals
      .filter(({ about }) => about === "fibre")
      .map(({ words, source }) => `${words} (${plainSource(source)})`),
  };
}

function stripeRows(scene: ResultScene) {
  return scene.outcome.stripes.map(({ yarn, ends }) => ({ name: nameOf(scene, yarn), ends }));
}

/** Woollen-spun yarns lie softer, so fewer of them fit. */
const isLofty = ({ number }: SheetYarn): boolean =>
  number?.system === "run" || number?.system === "cut";

function settRows({ sheet, units }: ResultScene) {
  return sheet.yarns.flatMap((yarn) => {
    const grams = metreWeight(yarn);
    if (!grams) return [];
    const perPound = yardsInPound(grams);
    const guide = settGuide(perPound, isLofty(yarn) ? "lofty" : "firm");
    const ends = (thousandths: number) => settText(thousandths, units);
    return [
      {
        name: yarn.name,
        long: longWords(grams, units),
        plain: `${ends(guide.plain.ordinary)} (at most ${ends(guide.plain.most)})`,
        twill: `${ends(guide.twill.ordinary)} (at most ${ends(guide.twill.most)})`,
      },
    ];
  });
}

const settText = (thousandths: number, units: Units): string =>
  decimalText(inUnit(inBase({ thousandths, unit: "per-in" }), shownIn[units].density), 1);

/** "3360 yd in a pound" or "6773 m in a kilogram". */
function longWords(gramsInMetre: Fraction, units: Units): string {
  if (units === "inch") return `${wholeText(yardsInPound(gramsInMetre))} yd in a pound`;
  const metres = { top: gramsInMetre.bottom * 1_000n, bottom: gramsInMetre.top };
  return `${wholeText(metres)} m in a kilogram`;
}

const wholeText = ({ top, bottom }: Fraction): string =>
  ((top * 2n + bottom) / (bottom * 2n)).toString();

function mismatchWords(scene: ResultScene, one: SheetOutcome["mismatches"][number]) {
  const { typed, nominal } = one;
  return {
    title: `Look at ${nameOf(scene, one.yarn)} again`,
    text: `You typed ${wholeText(typed)} yards in a pound; its number says ${wholeText(nominal)}. The typed length is used. If that is a slip of the number, its system or its plies, change it.`,
  };
}

function assumptions({ sheet, units }: ResultScene) {
  const length = (one: WarpSheet["gap"]) => measureText(one, shownIn[units].length);
  return [
    { label: "Take-up", value: shareText(sheet.takeUp) },
    { label: "Shrinkage in length", value: shareText(sheet.shrinkage) },
    { label: "Draw-in", value: shareText(sheet.drawIn) },
    { label: "Shrinkage in width", value: shareText(sheet.widthShrinkage) },
    { label: "Loom waste", value: length(sheet.loomWaste) },
    { label: "Gap between two pieces", value: length(sheet.gap) },
    { label: "Sample", value: length(sheet.sampling) },
    {
      label: "Setting up the loom",
      value: `${timeText(fraction(sheet.setUp))}, shared ${sheet.setUpBy === "length" ? "by woven length" : "alike"}`,
    },
  ];
}
