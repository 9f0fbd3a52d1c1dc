import { colourFamilies } from "../colour-family.ts";
import { fibreName } from "../fibre.ts";
import { groupBy } from "../group-by.ts";
import { figuresOf, type SoldFigures } from "./figures.ts";
import type { SoldRow } from "./sold-row.ts";
import { paces } from "./wait.ts";

/** What rows can be grouped and filtered by. */
export const dimensions = ["where", "year", "kind", "fibre", "colour", "band", "pace"] as const;

export type Dimension = (typeof dimensions)[number];

export type SoldFilter = Partial<Record<Dimension, string>>;

/** Words in an address for what nobody has said. */
export const notSaid = "none";

/** What a row says of a dimension, as it stands in an address. */
export function keyOf(row: SoldRow, dimension: Dimension): string {
  if (dimension === "year") return row.day.slice(0, 4);
  if (dimension === "band") return String(row.band);
  return row[dimension] || notSaid;
}

export const filtered = (rows: readonly SoldRow[], filter: SoldFilter): SoldRow[] =>
  rows.filter((row) =>
    dimensions.every((name) => filter[name] === undefined || keyOf(row, name) === filter[name]),
  );

export interface SoldGroup {
  key: string;
  label: string;
  figures: SoldFigures;
}

const colourNames: ReadonlyMap<string, string> = new Map(colourFamilies);
const paceNames: ReadonlyMap<string, string> = new Map(
  paces.map(([code, words]) => [code, words] as const),
);

/** What a group is called; `bandName` knows the guild's currency. */
function labelOf(dimension: Dimension, row: SoldRow, bandName: (band: number) => string): string {
  if (dimension === "where") return row.whereName;
  if (dimension === "band") return bandName(row.band);
  if (dimension === "year") return row.day.slice(0, 4);
  const key = keyOf(row, dimension);
  if (key === notSaid) return dimension === "kind" ? "Without a tag" : "Not said";
  if (dimension === "kind") return row.kindName;
  if (dimension === "fibre") return fibreName(key);
  if (dimension === "colour") return colourNames.get(key) ?? key;
  return paceNames.get(key) ?? key;
}

/** Each dimension in the order that helps most: the newest, the cheapest, the soonest, the most sold. */
const orders: Record<Dimension, (one: Ordered, other: Ordered) => number> = {
  where: (one, other) => compare(other.day, one.day),
  year: (one, other) => compare(other.key, one.key),
  band: (one, other) => Number(one.key) - Number(other.key),
  pace: (one, other) => paceAt(one.key) - paceAt(other.key),
  ...{ kind: bySold, fibre: bySold, colour: bySold },
};

type Ordered = SoldGroup & { day: string };

function bySold(one: Ordered, other: Ordered): number {
  const last = (key: string) => (key === notSaid ? 1 : 0);
  return (
    last(one.key) - last(other.key) ||
    other.figures.sold - one.figures.sold ||
    compare(one.label, other.label)
  );
}

const paceAt = (key: string): number => paces.findIndex(([code]) => code === key);
const compare = (one: string, other: string): number => (one < other ? -1 : one > other ? 1 : 0);

/** Rows by one dimension, each group with its figures. What has no pace did not sell here. */
export function groupsOf(
  rows: readonly SoldRow[],
  dimension: Dimension,
  bandName: (band: number) => string,
): SoldGroup[] {
  const wanted = dimension === "pace" ? rows.filter(({ pace }) => pace !== "") : rows;
  return [...groupBy(wanted, (row) => keyOf(row, dimension))]
    .map(([key, own]) => ({
      key,
      label: labelOf(dimension, own[0]!, bandName),
      figures: figuresOf(own),
      day:
        own
          .map(({ day }) => day)
          .sort()
          .at(-1) ?? "",
    }))
    .sort(orders[dimension])
    .map(({ key, label, figures }) => ({ key, label, figures }));
}
