import { figuresOf, type SoldFigures } from "./figures.ts";
import { type Dimension, filtered, groupsOf, type SoldFilter, type SoldGroup } from "./groups.ts";
import type { SoldRow } from "./sold-row.ts";
import { type Fact, factsOf } from "./what-next.ts";

/** What is shown in groups; the year is for choosing only. */
export const shownDimensions = ["where", "kind", "fibre", "colour", "band", "pace"] as const;

/** What a table of groups is called, and what stands over its first column. */
export const groupTitles: Record<
  (typeof shownDimensions)[number],
  readonly [title: string, what: string]
> = {
  where: ["By sale and outlet", "Sale or outlet"],
  kind: ["By kind", "Kind"],
  fibre: ["By main fibre", "Main fibre"],
  colour: ["By colour", "Colour"],
  band: ["By price", "Price of one"],
  pace: ["How soon pieces sold", "After the opening"],
};

export interface SoldReport {
  all: SoldFigures;
  groups: Record<(typeof shownDimensions)[number], SoldGroup[]>;
  facts: Record<(typeof factDimensions)[number], Fact[]>;
}

const factDimensions = ["kind", "fibre", "colour"] as const satisfies readonly Dimension[];

/** Everything that the page, the API and the paper show of the rows that a filter leaves. */
export function soldReport(
  rows: readonly SoldRow[],
  filter: SoldFilter,
  bandName: (band: number) => string,
): SoldReport {
  const wanted = filtered(rows, filter);
  const by = (dimension: Dimension) => groupsOf(wanted, dimension, bandName);
  const groups = {
    ...{ where: by("where"), kind: by("kind"), fibre: by("fibre") },
    ...{ colour: by("colour"), band: by("band"), pace: by("pace") },
  };
  const facts = {
    ...{ kind: factsOf(groups.kind), fibre: factsOf(groups.fibre) },
    colour: factsOf(groups.colour),
  };
  return { all: figuresOf(wanted), groups, facts };
}
