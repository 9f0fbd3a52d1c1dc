export const counted = (count: number, one: string, many: string): string =>
  `${count} ${count === 1 ? one : many}`;

const mostNamed = 4;

/** "a, b and 3 more": nobody reads a sentence of forty names. */
export function some(names: readonly string[]): string {
  const shown = names.slice(0, mostNamed);
  const rest = names.length - shown.length;
  if (rest > 0) return `${shown.join(", ")} and ${rest} more`;
  const last = shown.at(-1);
  return shown.length > 1 ? `${shown.slice(0, -1).join(", ")} and ${last}` : `${last}`;
}

export const named = (names: readonly string[], one: string, many: string): string =>
  `${names.length === 1 ? one : many} ${some(names)}`;
