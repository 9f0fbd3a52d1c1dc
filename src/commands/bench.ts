import { availableParallelism } from "node:os";
import { benchLookUp } from "./bench/look-up.ts";
import { benchOutbox } from "./bench/outbox.ts";
import { benchReceipts } from "./bench/receipts.ts";
import type { BenchResult } from "./bench/rounds.ts";
import { benchTags } from "./bench/tags-pdf.ts";

/**
 * One table of ratios. Each figure stands beside its limit, measured in turn with it on the same
 * machine and the same server: the ratio says something on any machine, the figures only on this.
 */
const seconds = Number(process.argv[2] ?? 24);

async function tags(count: number): Promise<BenchResult> {
  const { ours, bare, ratio } = await benchTags(count);
  return { name: `${count} tags to PDF`, ours, limit: bare, ratio, unit: "ms" };
}

const rows: [aim: number, against: string, run: () => Promise<BenchResult>][] = [
  [0.5, "plain SQL", () => benchReceipts(seconds)],
  [0.5, "plain SQL", () => benchReceipts(seconds, 60_000)],
  [0.5, "plain SQL", () => benchOutbox(seconds)],
  [0.5, "plain SQL", () => benchOutbox(seconds, 60_000)],
  [0.35, "a bare route", () => benchLookUp(seconds)],
  [0.35, "a bare route", () => benchLookUp(seconds, 60_000)],
  [0.8, "a bare pdfkit loop", () => tags(5_000)],
  [0.8, "a bare pdfkit loop", () => tags(50_000)],
];

console.log(`Node ${process.version}, ${availableParallelism()} cores\n`);
console.log(
  `${"".padEnd(34)}${"ours".padStart(9)}${"limit".padStart(9)} ${"unit".padEnd(11)}${"ratio".padStart(7)}${"aim".padStart(7)}`,
);
for (const [aim, against, run] of rows) {
  const { name, ours, limit, ratio, unit } = await run();
  const whole = (value: number) => String(Math.trunc(value)).padStart(9);
  const part = (value: number) => (Math.trunc(value * 100) / 100).toString().padStart(7);
  console.log(
    `${name.padEnd(34)}${whole(ours)}${whole(limit)} ${unit.padEnd(11)}${part(ratio)}${part(aim)}  against ${against}`,
  );
}
