import {
  type Bar,
  barColor,
  barGroup,
  baseLine,
  type Chart,
  drawing,
  gap,
  hitArea,
  inkColor,
  label,
  letterSize,
  scaleOf,
  target,
} from "./chart.ts";
import { element } from "./svg.ts";
import { fitText, textWidth, widestOf } from "./text-width.ts";

const columnHeight = 240;
const line = letterSize + gap;
const floor = line + columnHeight;

/**
 * Columns that stand, as SVG text, for what goes on in order (hours, days): `slot` pixels each, at
 * least as wide as a finger, the values at their ends, labels below. Values that do not fit over
 * one column are left to the titles and the table, and the highest and the lowest stand at the
 * edges instead; labels that do not fit stand under every second, third ... column. Values below
 * nought go down from the same line. Throws for narrower columns, values that are not whole, and
 * links that leave the site.
 */
export function columnChart(chart: Chart, slot: number = target): string {
  if (!Number.isSafeInteger(slot) || slot < target)
    throw new RangeError(`Too narrow for a column: ${slot}`);
  const { bars } = chart;
  const width = Math.max(1, bars.length) * slot;
  const scale = scaleOf(
    bars.map(({ value }) => value),
    columnHeight,
  );
  const zero = floor - scale.zero;
  const shown = bars.map((bar) => bar.shown);
  const valuesFit = widestOf(shown, letterSize) + gap <= slot;
  const step = stepFor(bars, slot);
  const columns = bars.map((bar, index) => {
    const x = index * slot;
    const tall = scale.length(bar.value);
    const end = zero - tall;
    // The last label has only what is left to the edge; cut short it would say nothing.
    const left = Math.min(step, bars.length - index) * slot - gap;
    const name = index === 0 ? fitText(bar.label, letterSize, left) : bar.label;
    const hasName = index % step === 0 && textWidth(name, letterSize) <= left;
    return barGroup(
      bar,
      hitArea(x, 0, slot, floor + 2 * line) +
        element("rect", {
          x,
          y: Math.min(zero, end),
          width: slot - gap,
          height: Math.abs(tall),
          fill: barColor,
        }) +
        (valuesFit ? label(x, bar.value < 0 ? below(end) : above(end), "start", bar.shown) : "") +
        (hasName ? label(x, below(floor + line), "start", name) : ""),
    );
  });
  const ends = valuesFit ? "" : edges(bars, width, (value) => zero - scale.length(value));
  return drawing(
    chart,
    width,
    floor + 2 * line,
    columns.join("") + baseLine(0, zero, width, zero) + ends,
  );
}

const above = (y: number): number => y - gap;
const below = (y: number): number => y + letterSize;

const brokenLine = (y: number, width: number): string =>
  element("path", { d: `M0 ${y}H${width}`, stroke: inkColor, "stroke-dasharray": "2 4" });

/**
 * The highest value over all columns and the lowest under them, where no bar can be, each on a
 * broken line across the picture, so that it is not taken for the first column's.
 */
function edges(bars: readonly Bar[], width: number, heightOf: (value: number) => number): string {
  const sorted = bars.toSorted((one, other) => other.value - one.value);
  const [highest, lowest] = [sorted[0], sorted.at(-1)];
  const edge = (bar: Bar | undefined, foot: (y: number) => number): string => {
    if (bar === undefined) return "";
    const y = heightOf(bar.value);
    return brokenLine(y, width) + label(0, foot(y), "start", fitText(bar.shown, letterSize, width));
  };
  return (
    edge(highest && highest.value > 0 ? highest : undefined, above) +
    edge(lowest && lowest.value < 0 ? lowest : undefined, below)
  );
}

/** Of how many columns one can have its label, so that the longest fits; all of them at most. */
function stepFor(bars: readonly Bar[], slot: number): number {
  const labels = bars.map((bar) => bar.label);
  const longest = widestOf(labels, letterSize);
  return Math.max(1, Math.min(bars.length, Math.ceil((longest + gap) / slot)));
}
