import { createHash } from "node:crypto";
import { v7 } from "uuid";
import type { ReceiptInput, ReceiptInputLine } from "../contract/receipt.ts";
import { backOff } from "../database/back-off.ts";
import { canonical } from "../database/canonical.ts";
import { databaseError, mayRunAgain, outcomeUnknown } from "../database/database-error.ts";
import { type Deed, unknown } from "../database/perform.ts";
import { writeReceipt } from "../database/receipt-writing.ts";
import { announceTillChange } from "../database/till-announce.ts";
import { readTillScene, type TillScene } from "../database/till-reads.ts";
import { type BasketLine, checkBasket } from "../rules/basket.ts";
import { formatMoney } from "../rules/currency.ts";
import { dayIn } from "../rules/day.ts";
import { receiptPostings } from "../rules/ledger-entries.ts";
import { markdownAt } from "../rules/markdown-time.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { type ComputedReceipt, computeReceipt, totalsOf } from "../rules/receipt.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import { allows } from "../rules/sale-stage.ts";
import { readTag } from "../rules/tag-number.ts";
import { keepBothVersions } from "./differing-receipt.ts";
import { floorRefusal } from "./floor-refusal.ts";
import { basketOf, checkLoose } from "./receipt-basket.ts";
import { linesToWrite } from "./receipt-lines.ts";

export interface Recorded {
  id: string;
  /** "2-0017" */
  name: string;
  subtotal: number;
  tax: number;
  total: number;
  cashGiven: number;
  change: number;
  /** What cash rounding added to what is paid, or took off it. */
  rounding: number;
  recorded: "now" | "before";
}

/** Another till, a twin of this request or a cash-up was quicker: reading again tells which. */
const overtaken = new Set([
  "count_on_floor",
  "receipt_pkey",
  "receipt_till_id_number_key",
  "till-closed",
  "sale-stage",
]);

const tries = 6;

/**
 * Records one sale at a till. The till's own id is the key: the same receipt sent again is found
 * and not recorded twice. Everything is worked out from one reading, then one statement writes
 * it, and the database decides every race.
 */
export async function recordReceipt(
  deed: Deed,
  input: ReceiptInput & { saleId: string },
): Promise<Result<Recorded>> {
  const lines = readTags(input);
  if (!lines.ok) return lines;
  const basket = { ...input, lines: lines.value };
  const fingerprint = createHash("sha256").update(canonical(basket)).digest("hex");
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await once(deed, basket, fingerprint);
    } catch (error) {
      const again = mayRunAgain(error) || overtaken.has(databaseError(error)?.rule ?? "");
      if (!again && outcomeUnknown(error)) return { ok: false, problem: unknown() };
      if (!again || attempt === tries) throw error;
      if (attempt > 1) await backOff(attempt);
    }
  }
}

type Basket = ReceiptInput & { saleId: string };

/** The lines with the digits of every tag, or what is wrong with each tag that was typed. */
function readTags({ lines }: ReceiptInput): Result<ReceiptInputLine[]> {
  const read = lines.map((line, index) =>
    line.kind === "item" ? readTag(line.tag, [8, 10], `lines.${index}.tag`) : ok(""),
  );
  const wrong = read.flatMap((result) => (result.ok ? [] : [result.problem]));
  if (wrong[0])
    return refuse(
      wrong[0].code,
      `${wrong[0].detail} Nothing was recorded.`,
      wrong.flatMap(({ errors }) => errors),
    );
  return ok(
    lines.map((line, index) => {
      const tag = read[index]!;
      return line.kind === "item" && tag.ok ? { ...line, tag: tag.value } : line;
    }),
  );
}

async function once(deed: Deed, basket: Basket, fingerprint: string): Promise<Result<Recorded>> {
  const scene = await readTillScene(deed.db, {
    saleId: basket.saleId,
    tillId: basket.tillId,
    receiptId: basket.id,
    tags: basket.lines.flatMap((line) => (line.kind === "item" ? [line.tag] : [])),
    memberNumbers: basket.lines.flatMap((line) =>
      line.kind === "untagged" && line.memberNumber ? [line.memberNumber] : [],
    ),
  });
  if (!scene?.till) return refuse("not-found", "There is no such till at this sale.");
  const { earlier, till } = scene;
  if (earlier && earlier.fingerprint !== fingerprint)
    return keepBothVersions(deed, basket, fingerprint);
  if (earlier) return ok(answer(basket.id, "before", earlier));
  if (till.device) return refuse("not-allowed", deviceWords(till.number));
  const computed = await compute(deed, basket, scene);
  if (!computed.ok) return computed;
  const number = await write(deed, basket, fingerprint, scene, computed.value);
  announceTillChange(deed.db);
  return ok(answer(basket.id, "now", { ...computed.value, number, tillNumber: till.number }));
}

const deviceWords = (till: number): string =>
  `Till ${till} lives on a device of its own, which numbers its receipts. Sell there, or use another till. Nothing was recorded.`;

function answer(
  id: string,
  recorded: Recorded["recorded"],
  receipt: Omit<Recorded, "id" | "name" | "recorded"> & { tillNumber: number; number: number },
): Recorded {
  const { tillNumber, number, subtotal, tax, total, cashGiven, change, rounding } = receipt;
  const name = showReceiptNumber(tillNumber, number);
  return { id, name, subtotal, tax, total, cashGiven, change, rounding, recorded };
}

async function compute(
  deed: Deed,
  basket: Basket,
  scene: TillScene,
): Promise<Result<ComputedReceipt>> {
  if (!allows(scene.stage, "sell"))
    return refuse("stage-closed", "This sale is not selling now. Nothing was recorded.");
  if (!scene.till?.sessionId)
    return refuse("till-closed", "Open the till with its float first. Nothing was recorded.");
  const loose = checkLoose(basket.lines, scene);
  if (loose.length > 0)
    return refuse("invalid-input", `Nothing was recorded. ${loose[0]!.message}`, loose);
  const short = await floorRefusal(deed.db, basket.saleId, taggedOf(basket), scene.items);
  if (short) return { ok: false, problem: short };
  const lines = basketOf(basket.lines, scene);
  const receipt = computeReceipt({ lines, tenders: basket.tenders, ...termsOf(basket, scene) });
  const due = receipt.ok ? receipt.value.total : totalOrNothing(lines, basket, scene);
  if (due === undefined || due === basket.total) return receipt;
  const words = (amount: number) => formatMoney(amount, scene.currency, scene.locale);
  const detail = `The till showed ${words(basket.total)}, but these pieces come to ${words(due)}. Nothing was recorded. Check the lines and send it again.`;
  return refuse("changed-meanwhile", detail, [{ field: "total", message: detail }]);
}

/** The tagged lines, each knowing where it stands, since refusals name the lines as they were sent. */
const taggedOf = ({ lines }: Basket) =>
  lines.flatMap((line, index) =>
    line.kind === "item" ? [{ tag: line.tag, quantity: line.quantity, index }] : [],
  );

/** What the sale's terms make of this basket, on the day and at the moment of the database. */
const termsOf = ({ exemption }: Basket, { terms, now, timeZone }: TillScene) => ({
  tax: terms.tax,
  day: dayIn(new Date(now), timeZone),
  exempt: exemption !== "",
  markdownRate: markdownAt(terms, now),
  cash: terms.cash,
});

/** A tag that stands on two lines has no total yet; that is told first. */
const totalOrNothing = (
  lines: BasketLine[],
  basket: Basket,
  scene: TillScene,
): number | undefined =>
  checkBasket(lines).length > 0 ? undefined : totalsOf(lines, termsOf(basket, scene)).total;

function write(
  deed: Deed,
  basket: Basket,
  fingerprint: string,
  { till }: TillScene,
  receipt: ComputedReceipt,
): Promise<number> {
  const lines = linesToWrite(receipt.lines);
  const tenders = receipt.tenders.map((tender) => ({ reference: "", ...tender }));
  const taxes = receipt.components.filter(({ tax }) => tax !== 0);
  return writeReceipt(deed.db, {
    id: basket.id,
    saleId: basket.saleId,
    tillId: basket.tillId,
    tillSessionId: till!.sessionId!,
    ...{ kind: "sale", reversesId: null, awaitsId: null, exchangeId: null },
    ...{ number: null, madeAt: null, late: false, reason: "" },
    subtotal: receipt.subtotal,
    tax: receipt.tax,
    total: receipt.total,
    cashGiven: receipt.cashGiven,
    change: receipt.change,
    rounding: receipt.rounding,
    exemption: basket.exemption,
    fingerprint,
    cashierId: deed.actor.id,
    requestId: deed.requestId,
    description: `Receipt at till ${till!.number}`,
    entryId: v7(),
    ...{ lines, taxes, tenders },
    postings: receiptPostings({ lines, taxes, tenders, rounding: receipt.rounding }, basket.tillId),
  });
}
