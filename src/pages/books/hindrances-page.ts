import type { Hindrance } from "../../rules/hindrances/hindrance.ts";

/** What stands in the way of settling: what must be done, what had better be, or that all is clear. */
export function hindrancesPage(hindrances: readonly Hindrance[]) {
  const must = hindrances.filter((one) => one.must);
  const better = hindrances.filter((one) => !one.must);
  return {
    must,
    better,
    clear: hindrances.length === 0,
    stops: must.length > 0,
    mustTitle: `Must be done first: ${must.length}`,
    betterTitle: `Better done first: ${better.length}`,
  };
}
