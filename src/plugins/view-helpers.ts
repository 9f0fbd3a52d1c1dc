import { randomUUID } from "node:crypto";
import Handlebars from "handlebars";
import { barChart } from "../rules/charts/bars.ts";
import type { Chart } from "../rules/charts/chart.ts";
import { columnChart } from "../rules/charts/columns.ts";
import type { Problem } from "../rules/problem.ts";

/** Handlebars adds its own options object as the last argument of every helper. */
type Helper = (this: unknown, ...given: unknown[]) => unknown;

interface RootOptions {
  data: { root: { values?: Record<string, unknown>; problem?: Problem | null } };
}

const withoutOptions = (given: unknown[]) => given.slice(0, -1);
const rootOf = (given: unknown[]) => (given[given.length - 1] as RootOptions).data.root;
const isText = (value: unknown) => typeof value === "string" || typeof value === "number";

/** Reads a typed value without ever reaching into a prototype. */
function typedValue(values: unknown, name: unknown): unknown {
  if (typeof values !== "object" || values === null || typeof name !== "string") return undefined;
  return Object.hasOwn(values, name) ? (values as Record<string, unknown>)[name] : undefined;
}

/** What was typed wins over what the option says, so a refused form keeps the choice. */
function isChosen(option: { value: unknown; selected?: boolean }, typed: unknown): boolean {
  if (typed === undefined || typed === null) return option.selected === true;
  const list = Array.isArray(typed) ? typed : [typed];
  return list.some((value) => isText(value) && String(value) === String(option.value));
}

/** Bars are drawn for a phone; beside their table they have the same room on a wide screen. */
const barsWidth = 360;

/** Charts are the only markup that does not come from a template: every text in one is escaped there. */
const drawn = (svg: string) => new Handlebars.SafeString(svg);

/** Short lists of choices can stand in the template: `(list "a4" "A4" "letter" "US Letter")`. */
function optionsFrom(words: unknown[]): { value: unknown; label: unknown }[] {
  if (words.length % 2 !== 0) throw new Error("A list needs a label for every value");
  return words.flatMap((value, index) =>
    index % 2 === 0 ? [{ value, label: words[index + 1] }] : [],
  );
}

/**
 * A fresh key for each rendered form. Only when the outcome of the last try is unknown does the
 * form keep its key: sending it again must then find the first try instead of doing it twice.
 */
function writeKey(root: RootOptions["data"]["root"]): string {
  const typed = typedValue(root.values, "_key");
  return root.problem?.code === "outcome-unknown" && typeof typed === "string"
    ? typed
    : randomUUID();
}

export function viewHelpers(asset: (name: string) => string): Record<string, Helper> {
  return {
    eq: (a, b) => a === b,
    not: (a) => !a,
    or: (...given) => withoutOptions(given).find(Boolean),
    and: (...given) => (withoutOptions(given).every(Boolean) ? given[given.length - 2] : false),
    concat: (...given) => withoutOptions(given).filter(isText).join(""),
    includes: (list, value) => Array.isArray(list) && list.includes(value),
    count: (list) => (Array.isArray(list) ? list.length : 0),
    list: (...given) => optionsFrom(withoutOptions(given)),
    asset: (name) => asset(String(name)),
    "bar-chart": (chart) => drawn(barChart(chart as Chart, barsWidth)),
    "column-chart": (chart) => drawn(columnChart(chart as Chart)),
    shown: (...given) => withoutOptions(given).find(isText) ?? "",
    chosen: (option, name, ...rest) =>
      isChosen(option as { value: unknown }, typedValue(rootOf(rest).values, name)),
    "write-key": (...given) => writeKey(rootOf(given)),
  };
}
