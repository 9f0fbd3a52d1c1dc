/** Numbers that look random but are the same at every run, so that the demo can be checked. */
export interface Dice {
  /** A whole number from `low` to `high`, both included. */
  between(low: number, high: number): number;
  pick<T>(list: readonly T[]): T;
  /** True in `percent` of a hundred throws. */
  chance(percent: number): boolean;
  shuffle<T>(list: readonly T[]): T[];
}

/** A linear congruential generator with the constants of "Numerical Recipes" (from memory). */
export function makeDice(start: number): Dice {
  let state = start >>> 0;
  const next = (): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state >>> 8;
  };
  const between = (low: number, high: number): number => low + (next() % (high - low + 1));
  return {
    between,
    pick: (list) => {
      const found = list[between(0, list.length - 1)];
      if (found === undefined) throw new RangeError("Nothing to pick from.");
      return found;
    },
    // A key for each, then by key: the same order at every run.
    shuffle: (list) =>
      list
        .map((item) => ({ item, key: next() }))
        .sort((one, other) => one.key - other.key)
        .map(({ item }) => item),
    chance: (percent) => between(1, 100) <= percent,
  };
}
