import {
  type Bar,
  barColor,
  barGroup,
  baseLine,
  type Chart,
  drawing,
  gap,
  hitArea,
  label,
  letterSize,
  scaleOf,
} from "./chart.ts";
import { element } from "./svg.ts";
import { fitText, widestOf } from "./text-width.ts";

/** A row: the label on its own line, the bar under it with its value; together a finger's target. */
const row = 56;
const labelFoot = 18;
const barTop = 26;
const thickness = 22;
/** How far the foot of a letter lies under the middle of its line. */
const drop = 5;

/**
 * Bars that lie, one row each, as SVG text: the label above, the value beside the end of its bar.
 * Values below nought go left from the same line. Labels wider than the picture are shortened with
 * dots; the bar's own title has them whole. `width` is in pixels, at least 320. Throws for less,
 * for values that are not whole, and for links that leave the site.
 */
export function barChart(chart: Chart, width: number): string {
  if (!Number.isSafeInteger(width) || width < 320)
    throw new RangeError(`Too narrow for a chart: ${width}`);
  const { bars } = chart;
  const room = roomsOf(bars, width);
  const scale = scaleOf(
    bars.map(({ value }) => value),
    room.bars,
  );
  const zero = room.start + scale.zero;
  const rows = bars.map((bar, index) => {
    const top = index * row;
    const long = scale.length(bar.value);
    const foot = top + barTop + thickness / 2 + drop;
    const shown = fitText(bar.shown, letterSize, room.value);
    return barGroup(
      bar,
      hitArea(0, top, width, row) +
        label(0, top + labelFoot, "start", fitText(bar.label, letterSize, width)) +
        element("rect", {
          x: Math.min(zero, zero + long),
          y: top + barTop,
          width: Math.abs(long),
          height: thickness,
          fill: barColor,
        }) +
        (bar.value < 0
          ? label(zero + long - gap, foot, "end", shown)
          : label(zero + long + gap, foot, "start", shown)),
    );
  });
  // The line stays with the bars, so that it crosses no label.
  const lines = bars.map((_, index) => {
    const top = index * row + barTop - 2;
    return baseLine(zero, top, zero, top + thickness + 4);
  });
  return drawing(chart, width, Math.max(1, bars.length) * row, rows.join("") + lines.join(""));
}

/**
 * Values stand outside their bars, on both sides when some are below nought. They are shortened
 * only where they would leave the bars less than a sixth of the width.
 */
function roomsOf(bars: readonly Bar[], width: number) {
  const sides = [bars.filter((bar) => bar.value < 0), bars.filter((bar) => bar.value >= 0)];
  const filled = sides.filter((side) => side.length > 0).length;
  const value = Math.floor((width * 5) / (6 * Math.max(1, filled))) - gap;
  const [start = 0, after = 0] = sides.map((side) => {
    const shown = side.map((bar) => bar.shown);
    return side.length === 0 ? 0 : gap + Math.min(value, widestOf(shown, letterSize));
  });
  return { value, start, bars: width - start - after };
}
