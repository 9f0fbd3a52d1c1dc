export interface BenchResult {
  name: string;
  ours: number;
  limit: number;
  ratio: number;
  unit: string;
}

/**
 * Runs ours and the limit in turn and takes the median of each, so that a machine that slows down
 * half-way slows both. One round of each goes first and is not counted.
 */
export async function inTurn(
  name: string,
  rounds: number,
  ours: () => Promise<number>,
  limit: () => Promise<number>,
): Promise<BenchResult> {
  await ours();
  await limit();
  const figures = { ours: [] as number[], limit: [] as number[] };
  for (let round = 0; round < rounds; round += 1) {
    figures.ours.push(await ours());
    figures.limit.push(await limit());
  }
  const result = { ours: median(figures.ours), limit: median(figures.limit) };
  return { name, ...result, ratio: result.ours / result.limit, unit: "per second" };
}

const median = (values: number[]): number =>
  values.toSorted((one, other) => one - other)[values.length >> 1]!;
