import type { FibreEntry } from "./contents.ts";
import { countedAs, type FibreCode, familyOf } from "./fibres.ts";
import { fill } from "./language.ts";
import type { LabelWords } from "./pack.ts";

/** Entries that the law calls by one name, with their weights added up. */
export interface Component {
  codes: FibreCode[];
  weight: bigint;
  /** The trade name, when all of this fibre carries the same one. */
  brand: string;
  /** All of it comes from bamboo pulp. */
  bamboo: boolean;
  reclaimed: boolean;
  functional: boolean;
  place: "named" | "other" | "unknown";
}

const unknownFibres: readonly FibreCode[] = ["unknown", "unknown-reclaimed", "scraps"];

/** Bamboo rayon is rayon with a source; reclaimed wool and reclaimed unknowns have their own name. */
function plainEntry(entry: FibreEntry): FibreEntry & { code: FibreCode } {
  if (entry.fibre === "bamboo-rayon") return { ...entry, code: "rayon", madeFrom: "bamboo" };
  if (entry.reclaimed && countedAs(entry.fibre) === "wool")
    return { ...entry, code: "recycled-wool", reclaimed: false };
  if (entry.reclaimed && entry.fibre === "unknown")
    return { ...entry, code: "unknown-reclaimed", reclaimed: false };
  return { ...entry, code: entry.fibre };
}

/** Adds up what the law gives one name: superwash to wool, viscose to rayon. */
export function mergeEntries(entries: readonly FibreEntry[], words: LabelWords): Component[] {
  const merged = new Map<string, Component>();
  for (const entry of entries.map(plainEntry)) {
    const reclaimed = entry.reclaimed === true && familyOf(entry.code) === "wool";
    const key = `${words.names[countedAs(entry.code)]}${reclaimed ? ", reclaimed" : ""}`;
    const known = merged.get(key);
    const brand = entry.brand?.trim() ?? "";
    merged.set(key, {
      codes: [...new Set([...(known?.codes ?? []), entry.code])],
      weight: (known?.weight ?? 0n) + BigInt(entry.share),
      brand: known && known.brand !== brand ? "" : brand,
      bamboo: entry.madeFrom === "bamboo" && (known?.bamboo ?? true),
      reclaimed,
      functional: entry.role === "functional" || (known?.functional ?? false),
      place: placeOf(entry.code),
    });
  }
  return [...merged.values()];
}

function placeOf(code: FibreCode): Component["place"] {
  if (code === "other") return "other";
  return unknownFibres.includes(code) ? "unknown" : "named";
}

/** The generic name, with its bamboo source and with the trade name beside it where they apply. */
export function nameOf(component: Component, words: LabelWords): string {
  const { codes, bamboo, brand, reclaimed, place } = component;
  if (place === "other") return codes.length > 1 ? words.other.several : words.other.one;
  let name = words.names[codes.length === 1 ? codes[0]! : countedAs(codes[0]!)];
  if (bamboo && words.madeFromBamboo) name = fill(words.madeFromBamboo, { name });
  if (reclaimed && words.recycled) name = fill(words.recycled, { name });
  return brand ? `${name} (${brand})` : name;
}
