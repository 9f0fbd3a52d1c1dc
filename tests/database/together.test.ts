import { expect, test } from "vitest";
import { together } from "../../src/database/together.ts";

const double = (calls: number[][]) =>
  together(async (keys: number[]) => {
    calls.push(keys);
    await new Promise((resolve) => setImmediate(resolve));
    return new Map(keys.filter((key) => key < 100).map((key) => [key, key * 2]));
  });

test("what is asked at one moment is one query, each question with its own answer", async () => {
  const calls: number[][] = [];
  const ask = double(calls);
  expect(await Promise.all([ask(1), ask(2), ask(1), ask(100)])).toEqual([2, 4, 2, undefined]);
  expect(calls).toEqual([[1, 2, 100]]);
});

test("a question is never answered by a query that started before it", async () => {
  let stored = 1;
  const ask = together(async (keys: string[]) => {
    const seen = stored;
    await new Promise((resolve) => setTimeout(resolve, 5));
    return new Map(keys.map((key) => [key, seen]));
  });
  const early = ask("x");
  await new Promise((resolve) => setTimeout(resolve, 1));
  stored = 2;
  const late = ask("x");
  expect(await late).toBe(2);
  expect(await early).toBeLessThanOrEqual(2);
});

test("more questions than batches all get answers; a failed batch fails its own only", async () => {
  let calls = 0;
  const ask = together(async (keys: number[]) => {
    calls += 1;
    if (calls === 1) throw new Error("gone");
    return new Map(keys.map((key) => [key, key]));
  });
  await expect(ask(1)).rejects.toThrow("gone");
  const many = Array.from({ length: 100 }, (_, index) => index);
  expect(await Promise.all(many.map(ask))).toEqual(many);
});
