import type { Fibre } from "../fibre.ts";
import type { LabelYarn } from "./details.ts";
import { pooledYarns } from "./label-contents.ts";

/**
 * The fibre that a piece has most of: by its percentages, or by the weight of its yarns where those
 * are listed. Of two that are level the first; null when nobody has said.
 */
export function mainFibre(fibres: readonly Fibre[], yarns: readonly LabelYarn[]): string | null {
  const shares = yarns.length > 0 ? fromYarns(yarns) : fibres.map(byPercent);
  const sums = new Map<string, bigint>();
  for (const { fibre, share } of shares) sums.set(fibre, (sums.get(fibre) ?? 0n) + share);
  let most: [string, bigint] | null = null;
  for (const entry of sums) if (most === null || entry[1] > most[1]) most = entry;
  return most?.[0] ?? null;
}

const byPercent = ({ fibre, percent }: Fibre) => ({ fibre, share: BigInt(percent) });

function fromYarns(yarns: readonly LabelYarn[]) {
  const pooled = pooledYarns(yarns);
  if (!pooled.ok) return [];
  return pooled.value.map(({ fibre, share }) => ({ fibre, share: BigInt(share) }));
}
