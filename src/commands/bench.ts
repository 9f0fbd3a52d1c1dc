import { availableParallelism } from "node:os";
import { benchLookUp } from "./bench/look-up.ts";
import { benchOutbox } from "./bench/outbox.ts";
import { benchReceipts } from "./bench/receipts.ts";
import type { BenchResult } from "./bench/rounds.ts";
import { benchTillPage } from "./bench/scan-to-line.ts";
import { benchSettlement } from "./bench/settlement.ts";
import { benchSold } from "./bench/sold-page.ts";
import { benchTags } from "./bench/tags-pdf.ts";

/**
 * One table of ratios. Each figure stands beside its limit, measured in turn with it on the same
 * machine and the same server: the ratio says something on any machine, the figures only on this.
 */
const seconds = Number(process.argv[2] ?? 24);

async function tags(count: number): Promise<BenchResult[]> {
  const { ours, bare, ratio } = await benchTags(count);
  return [{ name: `${count} tags to PDF`, ours, limit: bare, ratio, unit: "ms" }];
}

/** Two rows of the table come from the same settlements. */
let settled: ReturnType<typeof benchSettlement> | undefined;
function settlement() {
  settled ??= benchSettlement();
  return settled;
}

const rows: [aim: number, against: string, run: () => Promise<BenchResult[]>][] = [
  [0.5, "plain SQL", async () => [await benchReceipts(seconds)]],
  [0.5, "plain SQL", async () => [await benchReceipts(seconds, 60_000)]],
  [0.5, "plain SQL", async () => [await benchOutbox(seconds)]],
  [0.5, "plain SQL", async () => [await benchOutbox(seconds, 60_000)]],
  [0.35, "a bare route", async () => [await benchLookUp(seconds)]],
  [0.35, "a bare route", async () => [await benchLookUp(seconds, 60_000)]],
  [1, "a picture or a second", () => benchTillPage()],
  [0.8, "a bare pdfkit loop", () => tags(5_000)],
  [0.8, "a bare pdfkit loop", () => tags(50_000)],
  [0.003, "one SQL aggregate", async () => (await settlement()).time],
  [1, "the most it may be", async () => (await settlement()).bounds],
  [1, "1.5 times the page alone", async () => [await benchSold()]],
];

console.log(`Node ${process.version}, ${availableParallelism()} cores\n`);
console.log(
  `${"".padEnd(37)}${"ours".padStart(9)}${"limit".padStart(9)} ${"unit".padEnd(11)}${"ratio".padStart(7)}${"aim".padStart(7)}`,
);
const whole = (value: number) => String(Math.trunc(value)).padStart(9);
const part = (value: number) => {
  const digits = value < 0.1 ? 10_000 : 100;
  return (Math.trunc(value * digits) / digits).toString().padStart(7);
};
for (const [aim, against, run] of rows)
  for (const { name, ours, limit, ratio, unit } of await run())
    console.log(
      `${name.padEnd(37)}${whole(ours)}${whole(limit)} ${unit.padEnd(11)}${part(ratio)}${part(aim)}  against ${against}`,
    );
