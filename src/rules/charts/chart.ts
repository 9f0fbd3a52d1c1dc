import { assertMinor } from "../money.ts";
import { element, words } from "./svg.ts";

export interface Bar {
  label: string;
  /** The length of the bar: coins, pieces or whatever the chart counts, whole. */
  value: number;
  /** The value as it is shown, with its sign and currency. */
  shown: string;
  /** A path of this site with the rows behind the bar. */
  href?: string | null;
}

export interface Chart {
  /** Letters, digits and hyphens; no other chart of the page may have it. */
  id: string;
  title: string;
  /** What the picture shows, for people who cannot see it. The figures belong in a table beside it. */
  description: string;
  bars: readonly Bar[];
}

/**
 * Sizes in pixels. A bar that is a link is as big as a finger needs (44), also on a phone, which
 * draws the picture a little smaller.
 */
export const target = 48;
export const letterSize = 16;
export const gap = 8;

/** Colours of the site: bars stand out 3 to 1, letters 4.5 to 1 from the page. */
export const barColor = "#2a3a73";
export const inkColor = "#1e1d1b";

export interface Scale {
  /** Where the value nought lies, in pixels from the lowest end. */
  zero: number;
  /** The signed length of a value in whole pixels. */
  length(value: number): number;
}

/**
 * One scale for all bars over a room of whole pixels. It always holds nought, so that a bar twice
 * as long is twice as much; lengths are exact quotients rounded half up, and no small value is
 * made to look bigger. Throws on values that are not whole.
 */
export function scaleOf(values: readonly number[], room: number): Scale {
  for (const value of values) assertMinor(value);
  const highest = Math.max(0, ...values);
  const lowest = Math.min(0, ...values);
  const span = BigInt(highest) - BigInt(lowest);
  // Two sides that are both rounded up take a pixel more than the room.
  const pixelsInAll = BigInt(lowest < 0 && highest > 0 ? room - 1 : room);
  const length = (value: number): number => {
    if (span === 0n) return 0;
    const size = BigInt(Math.abs(value));
    const pixels = Number((2n * size * pixelsInAll + span) / (2n * span));
    return value < 0 ? 0 - pixels : pixels;
  };
  return { zero: 0 - length(lowest), length };
}

/** A bar with the words that a pointer or a screen reader gets, as a link where it has one. */
export function barGroup({ label, shown, href }: Bar, content: string): string {
  const inside = element("title", {}, words(`${label}: ${shown}`)) + content;
  if (href === undefined || href === null) return element("g", {}, inside);
  if (!/^(?:\/(?!\/)|[?#])/.test(href)) throw new RangeError(`Not a path of this site: ${href}`);
  return element("a", { href }, inside);
}

export const label = (
  x: number,
  y: number,
  anchor: "start" | "middle" | "end",
  text: string,
): string =>
  text === "" ? "" : element("text", { x, y, "text-anchor": anchor, fill: inkColor }, words(text));

/** The line at nought from which all bars go out. */
export const baseLine = (x1: number, y1: number, x2: number, y2: number): string =>
  element("line", {
    x1,
    y1,
    x2,
    y2,
    stroke: inkColor,
    "stroke-width": 1,
    "shape-rendering": "crispEdges",
  });

/** The picture around the bars, with its title and description. */
export function drawing(
  { id, title, description, bars }: Chart,
  width: number,
  height: number,
  content: string,
): string {
  if (!/^[a-z][a-z0-9-]*$/.test(id)) throw new RangeError(`Not an id for a chart: ${id}`);
  // A picture hides its inside from screen readers, and so its links; a group does not.
  const role = bars.some(({ href }) => href !== undefined && href !== null) ? "group" : "img";
  const head =
    element("title", { id: `${id}-title` }, words(title)) +
    element("desc", { id: `${id}-desc` }, words(description));
  return element(
    "svg",
    {
      xmlns: "http://www.w3.org/2000/svg",
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      role,
      "aria-labelledby": `${id}-title`,
      "aria-describedby": `${id}-desc`,
      "font-family": "sans-serif",
      "font-size": letterSize,
    },
    head + content,
  );
}

/** Makes the whole row or column answer to a finger, not only what is painted. */
export const hitArea = (x: number, y: number, width: number, height: number): string =>
  element("rect", { x, y, width, height, fill: "none", "pointer-events": "all" });
