import { type Fraction, fraction, times } from "../../../src/rules/fraction.ts";
import type { FibreCode } from "../../../src/rules/labels/fibres.ts";
import { poolYarns } from "../../../src/rules/labels/pooling.ts";
import { labelYarnsOf } from "../../../src/rules/weave/label-yarns.ts";
import { decimalText, inUnit } from "../../../src/rules/weave/measure.ts";
import type { WarpSheet } from "../../../src/rules/weave/sheet.ts";
import { workOutSheet } from "../../../src/rules/weave/work-out.ts";

export const four = (figure: Fraction, unit: Parameters<typeof inUnit>[1]) =>
  decimalText(inUnit(figure, unit), 4);

/** Smallest coins as whole units of money, to four decimals. */
export const coins = (figure: Fraction | null) =>
  figure && decimalText(times(figure, fraction(1, 100)), 4);

export function workedOut(sheet: WarpSheet) {
  const outcome = workOutSheet(sheet);
  return {
    outcome,
    warpInches: four(outcome.warpLength, "in"),
    /** What a yarn needs, as text to four decimals. */
    need: (yarn: number) => {
      const { warpMetres, weftMetres, warpGrams, weftGrams } = outcome.needs[yarn]!;
      return {
        ...{ warpYards: four(warpMetres, "yd"), weftYards: four(weftMetres, "yd") },
        ...{ warpPounds: four(warpGrams, "lb"), weftPounds: four(weftGrams, "lb") },
        ...{ warpGrams: decimalText(warpGrams, 2), weftGrams: decimalText(weftGrams, 2) },
      };
    },
    piece: (run: number) => {
      const of = outcome.runs[run]!;
      return {
        loom: four(of.loomLength, "in"),
        grams: decimalText(of.grams, 2),
        share: decimalText(of.share, 4),
        materials: coins(of.making.materials),
        fibres: fibresOf(sheet, run),
      };
    },
  };
}

/** The percentage of each fibre to two decimals, as the label works it out before it rounds. */
export function fibresOf(sheet: WarpSheet, run: number): Record<string, string> {
  const yarns = labelYarnsOf(sheet, workOutSheet(sheet).runs[run]!);
  const pooled = poolYarns(
    yarns.map(({ amount: { unit, thousandths }, blend }) => ({
      amount: { unit: unit as "g", thousandths },
      blend: blend.map(({ fibre, percent }) => ({
        fibre: fibre as FibreCode,
        percent: percent * 1_000,
      })),
    })),
  );
  if (!pooled.ok) throw new Error(JSON.stringify(pooled.problem));
  const all = pooled.value.reduce((sum, { share }) => sum + BigInt(share), 0n);
  return Object.fromEntries(
    pooled.value.map(({ fibre, share }) => [
      fibre,
      decimalText(fraction(BigInt(share) * 100n, all), 2),
    ]),
  );
}
