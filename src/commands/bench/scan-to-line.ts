import type { Hall } from "./hall.ts";
import { openHall } from "./hall.ts";
import type { BenchResult } from "./rounds.ts";
import { openTillPage, sitDown } from "./till-page.ts";

const tags = 50_000;
const customers = 12;
const piecesEach = 10;
const loads = 9;
/** A screen draws sixty times in a second; what is on the next picture was there at once. */
const frame = 16;
const second = 1_000;

/**
 * What a cashier waits for, in Chromium with so many tags on the device: from the key that ends a
 * scan to the picture with the line on it, half of the time and 19 times of 20; and from opening
 * the page, out of its kept copy, to the question who sells here.
 */
export async function benchTillPage(): Promise<BenchResult[]> {
  const hall = await openHall(tags);
  const till = await openTillPage(hall);
  try {
    const scans = (await till.page.evaluate(scanning(hall))) as number[];
    const opened: number[] = [];
    await till.page.addInitScript(watchSeat);
    for (let load = 0; load < loads; load += 1) {
      await till.page.reload();
      await till.page.locator("#seat").waitFor();
      opened.push((await till.page.evaluate(seatShownAt)) as number);
    }
    await sitDown(till.page);
    return [
      row("scan to line, half", partOf(scans, 0.5), frame),
      row("scan to line, 19 of 20", partOf(scans, 0.95), frame),
      row("till's page opens", partOf(opened, 0.5), second),
    ];
  } finally {
    await till.close();
    await hall.close();
  }
}

const row = (name: string, ours: number, limit: number): BenchResult => ({
  ...{ name: `${name}, ${tags} tags`, ours, limit },
  ...{ ratio: limit / ours, unit: "ms" },
});

const partOf = (values: number[], part: number): number =>
  values.toSorted((one, other) => one - other)[Math.trunc(values.length * part)]!;

/**
 * Runs in the page: presses the keys of one tag after another as a scanner does, and answers with
 * the milliseconds from the last key until the picture with the new line was drawn. A message that
 * is posted while a picture is being made arrives when it is done.
 */
const scanning = ({ items }: Hall): string => `(async () => {
  const drawn = () => new Promise((done) => requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => done(performance.now());
    port2.postMessage("");
  }));
  const press = (key) => (document.activeElement ?? document.body).dispatchEvent(
    new KeyboardEvent("keydown", { key, bubbles: true, cancelable: true }));
  const took = [];
  const tags = ${JSON.stringify(items.slice(0, customers * piecesEach).map(({ tag }) => tag))};
  for (const [index, tag] of tags.entries()) {
    for (const digit of tag) press(digit);
    const start = performance.now();
    press("Enter");
    if (document.querySelectorAll("#lines li").length !== 1 + index % ${piecesEach})
      throw new Error("Scan " + (index + 1) + " of the bench made no line. " + document.querySelector("#signal").textContent);
    took.push((await drawn()) - start);
    if (index % ${piecesEach} === ${piecesEach - 1})
      for (let off; (off = document.querySelector(".till-off")); ) off.click();
    await new Promise((done) => setTimeout(done, 30 + (index * 7) % 16));
  }
  return took;
})()`;

/** Runs in every page from its first moment: notes when the till asks who sells. */
const watchSeat = `new MutationObserver((_, watch) => {
  if (document.getElementById("seat")?.hidden !== false) return;
  performance.mark("seat");
  watch.disconnect();
}).observe(document, { subtree: true, childList: true, attributeFilter: ["hidden"] })`;

/** Milliseconds since the page was opened. */
const seatShownAt = `performance.getEntriesByName("seat")[0].startTime`;
