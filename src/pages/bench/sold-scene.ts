import { onOneSnapshot } from "../../database/figures/snapshot.ts";
import { soldRowsOf } from "../../database/sold/sold-rows.ts";
import type { Request } from "../../plugins/types.ts";
import { type Dimension, dimensions, groupsOf, type SoldFilter } from "../../rules/sold/groups.ts";
import { bandWords } from "../../rules/sold/price-band.ts";
import type { SoldRow } from "../../rules/sold/sold-row.ts";
import { type GuildWords, guildWords } from "../books/scene.ts";
import { searchOf } from "../want-id.ts";

export const mine = { config: { access: "signed-in" as const } };

/** What became of the pieces of whoever is signed in, with the guild's way of writing. */
export interface SoldScene {
  guild: GuildWords;
  rows: SoldRow[];
  filter: SoldFilter;
  bandName(band: number): string;
}

export async function soldScene(request: Request): Promise<SoldScene> {
  const guild = await guildWords(request);
  const memberId = request.who().id;
  const rows = await onOneSnapshot(request.server.parts.db, (tx) => soldRowsOf(tx, memberId));
  return {
    ...{ guild, rows, filter: filterOf(request.query as Record<string, unknown>) },
    bandName: (band) => bandWords(band, guild.currency, guild.money),
  };
}

/** What an address asks for; an empty choice of a form is none. */
function filterOf(query: Record<string, unknown>): SoldFilter {
  const asked = dimensions.map((name) => [name, searchOf(query[name])] as const);
  return Object.fromEntries(asked.filter(([, value]) => value !== ""));
}

/** The address of a page with a filter, and perhaps one part of it changed. */
export function withFilter(path: string, filter: SoldFilter, more: SoldFilter = {}): string {
  const query = new URLSearchParams({ ...filter, ...more }).toString();
  return query === "" ? path : `${path}?${query}`;
}

const labels: Record<Dimension, [label: string, all: string]> = {
  where: ["Sale or outlet", "All sales and outlets"],
  year: ["Year", "All years"],
  kind: ["Kind", "All kinds"],
  fibre: ["Main fibre", "All fibres"],
  colour: ["Colour", "All colours"],
  band: ["Price", "All prices"],
  pace: ["How soon", "Any time"],
};

/** The choices of the form, from all that the member has. */
export function choicesOf({ rows, filter, bandName }: SoldScene, wanted: readonly Dimension[]) {
  return wanted.map((name) => {
    const [label, all] = labels[name];
    const options = groupsOf(rows, name, bandName).map((group) => ({
      value: group.key,
      label: group.label,
      selected: filter[name] === group.key,
    }));
    return { name, label, options: [{ value: "", label: all, selected: false }, ...options] };
  });
}
