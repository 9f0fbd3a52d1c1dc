import { setFlagsFromString } from "node:v8";
import { runInNewContext } from "node:vm";
import { describe, expect, test } from "vitest";
import { printTags, streamTags } from "../../src/printing/tags.ts";
import { pagesOf } from "../support/pdf.ts";
import { guild, plainLabels } from "./samples.ts";

const options = { ...guild, stock: "letter-30" } as const;

setFlagsFromString("--expose-gc");
const collect = runInNewContext("gc") as () => void;

/** The most memory in use at the end of a page, over what was in use before, in bytes. */
async function growth(count: number): Promise<number> {
  const labels = plainLabels(count, "bars");
  collect();
  const before = process.memoryUsage();
  let most = 0;
  let bytes = 0;
  let pages = 0;
  for await (const piece of streamTags(labels, options)) {
    bytes += piece.length;
    pages += 1;
    if (pages % 50 !== 0) continue;
    collect();
    const now = process.memoryUsage();
    most = Math.max(most, now.heapUsed - before.heapUsed + now.arrayBuffers - before.arrayBuffers);
  }
  expect(bytes).toBeGreaterThan(count * 100);
  return most;
}

describe("a large batch in pieces", () => {
  test("is the same file as in one", async () => {
    const labels = plainLabels(100, "bars");
    const parts: Uint8Array[] = [];
    for await (const piece of streamTags(labels, options)) parts.push(piece);
    const whole = await printTags(labels, options);
    expect(Buffer.concat(parts).equals(Buffer.from(whole))).toBe(true);
    expect(parts.length).toBeGreaterThan(4);
    expect(await pagesOf(whole)).toHaveLength(4);
  });

  test("needs little more memory for 20,000 labels than for 2,000", async () => {
    await growth(500);
    const small = await growth(2000);
    const large = await growth(20_000);
    // What grows is the plan of every label; the file itself, kept whole, would add half as much again.
    expect(large - small).toBeLessThan(6_500_000);
  }, 180_000);

  test("lets others run between pages", async () => {
    let turns = 0;
    let printing = true;
    const count = (): void => {
      turns += 1;
      if (printing) setImmediate(count);
    };
    setImmediate(count);
    await printTags(plainLabels(600, "bars"), options);
    printing = false;
    expect(turns).toBeGreaterThanOrEqual(20);
  });

  test("stops between two pages when it is told to", async () => {
    const stop = new AbortController();
    let pieces = 0;
    const work = async () => {
      for await (const _piece of streamTags(plainLabels(900, "bars"), {
        ...options,
        signal: stop.signal,
      })) {
        pieces += 1;
        if (pieces === 3) stop.abort();
      }
    };
    await expect(work()).rejects.toThrow(/abort/i);
    expect(pieces).toBeLessThan(6);
  });
});
