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
  target,
} from "./chart.ts";
import { element } from "./svg.ts";
import { fitText, widestOf } from "./text-width.ts";

/** How far the foot of a letter lies under the middle of its line. */
const drop = 5;
const thickness = 28;

/**
 * Bars that lie, one row each, as SVG text: the label left, the value beside the end of its bar.
 * Values below nought go left from the same line. Labels that the values and bars leave no room
 * for are shortened with dots; the bar's own title has them whole. `width` is in pixels, at least
 * 320. Throws for less, for values that are not whole, and for links that leave the site.
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
    const top = index * target;
    const long = scale.length(bar.value);
    const foot = top + target / 2 + drop;
    const shown = fitText(bar.shown, letterSize, room.value);
    return barGroup(
      bar,
      hitArea(0, top, width, target) +
        label(0, foot, "start", fitText(bar.label, letterSize, room.label)) +
        element("rect", {
          x: Math.min(zero, zero + long),
          y: top + (target - thickness) / 2,
          width: Math.abs(long),
          height: thickness,
          fill: barColor,
        }) +
        (bar.value < 0
          ? label(zero + long - gap, foot, "end", shown)
          : label(zero + long + gap, foot, "start", shown)),
    );
  });
  const height = Math.max(1, bars.length) * target;
  return drawing(chart, width, height, rows.join("") + baseLine(zero, 0, zero, height));
}

/** Shares the width out: values first, at least a sixth for the bars, labels what is left. */
function roomsOf(bars: readonly Bar[], width: number) {
  const value = Math.floor(width / 3);
  // Values stand outside their bars, on both sides when some are below nought.
  const beside = (of: readonly Bar[]) => {
    if (of.length === 0) return 0;
    const shown = of.map((bar) => bar.shown);
    return gap + Math.min(value, widestOf(shown, letterSize));
  };
  const before = beside(bars.filter((bar) => bar.value < 0));
  const after = beside(bars.filter((bar) => bar.value >= 0));
  const left = width - before - after - gap;
  const labels = bars.map((bar) => bar.label);
  const label = Math.min(widestOf(labels, letterSize), value, left - Math.floor(width / 6));
  return { value, label, start: label + gap + before, bars: left - label };
}
