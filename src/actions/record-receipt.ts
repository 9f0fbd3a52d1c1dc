import { createHash } from "node:crypto";
import { v7 } from "uuid";
import type { ReceiptInput } from "../contract/receipt.ts";
import { backOff } from "../database/back-off.ts";
import { canonical } from "../database/canonical.ts";
import { databaseError, mayRunAgain, outcomeUnknown } from "../database/database-error.ts";
import { type Deed, unknown } from "../database/perform.ts";
import { writeReceipt } from "../database/receipt-writing.ts";
import { readTillScene, type TillScene } from "../database/till-reads.ts";
import { formatMoney } from "../rules/currency.ts";
import { receiptPostings } from "../rules/ledger-entries.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import {
  type BasketLine,
  type ComputedReceipt,
  computeReceipt,
  totalsOf,
} from "../rules/receipt.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import { allows } from "../rules/sale-stage.ts";
import { readTag } from "../rules/tag-number.ts";
import { keepBothVersions } from "./differing-receipt.ts";
import { floorRefusal } from "./floor-refusal.ts";

export interface Recorded {
  id: string;
  /** "2-0017" */
  name: string;
  subtotal: number;
  tax: number;
  total: number;
  cashGiven: number;
  change: number;
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
  const tags = readTags(input);
  if (!tags.ok) return tags;
  const lines = input.lines.map(({ quantity }, index) => ({ tag: tags.value[index]!, quantity }));
  const basket = { ...input, lines };
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

function readTags({ lines }: ReceiptInput): Result<string[]> {
  const read = lines.map(({ tag }, index) => readTag(tag, [8, 10], `lines.${index}.tag`));
  const wrong = read.flatMap((result) => (result.ok ? [] : [result.problem]));
  if (wrong[0])
    return refuse(
      wrong[0].code,
      `${wrong[0].detail} Nothing was recorded.`,
      wrong.flatMap(({ errors }) => errors),
    );
  return ok(read.flatMap((result) => (result.ok ? [result.value] : [])));
}

async function once(deed: Deed, basket: Basket, fingerprint: string): Promise<Result<Recorded>> {
  const scene = await readTillScene(deed.db, {
    saleId: basket.saleId,
    tillId: basket.tillId,
    receiptId: basket.id,
    tags: basket.lines.map(({ tag }) => tag),
  });
  if (!scene?.till) return refuse("not-found", "There is no such till at this sale.");
  const { earlier, till } = scene;
  if (earlier && earlier.fingerprint !== fingerprint)
    return keepBothVersions(deed, basket, fingerprint);
  if (earlier) return ok(answer(basket.id, "before", earlier));
  const computed = await compute(deed, basket, scene);
  if (!computed.ok) return computed;
  const number = await write(deed, basket, fingerprint, scene, computed.value);
  return ok(answer(basket.id, "now", { ...computed.value, number, tillNumber: till.number }));
}

function answer(
  id: string,
  recorded: Recorded["recorded"],
  receipt: Omit<Recorded, "id" | "name" | "recorded"> & { tillNumber: number; number: number },
): Recorded {
  const { tillNumber, number, subtotal, tax, total, cashGiven, change } = receipt;
  const name = showReceiptNumber(tillNumber, number);
  return { id, name, subtotal, tax, total, cashGiven, change, recorded };
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
  const short = await floorRefusal(deed.db, basket.saleId, basket.lines, scene.items);
  if (short) return { ok: false, problem: short };
  const lines = basketLines(basket, scene);
  const receipt = computeReceipt({ lines, taxRate: scene.taxRate, tenders: basket.tenders });
  const due = receipt.ok ? receipt.value.total : totalOrNothing(lines, scene.taxRate);
  if (due === undefined || due === basket.total) return receipt;
  const words = (amount: number) => formatMoney(amount, scene.currency, scene.locale);
  const detail = `The till showed ${words(basket.total)}, but these pieces come to ${words(due)}. Nothing was recorded. Check the lines and send it again.`;
  return refuse("changed-meanwhile", detail, [{ field: "total", message: detail }]);
}

/** A tag that stands on two lines has no total yet; that is told first. */
const totalOrNothing = (lines: BasketLine[], taxRate: number): number | undefined =>
  new Set(lines.map(({ itemId }) => itemId)).size < lines.length
    ? undefined
    : totalsOf(lines, taxRate).total;

function basketLines(basket: Basket, scene: TillScene): BasketLine[] {
  const byTag = new Map(scene.items.map((item) => [item.tag, item]));
  return basket.lines.map(({ tag, quantity }) => {
    const { id, description, memberId, memberNumber, price, donated } = byTag.get(tag)!;
    return {
      itemId: id,
      tag,
      description,
      memberId,
      memberNumber,
      unitPrice: price,
      quantity,
      donated,
    };
  });
}

function write(
  deed: Deed,
  basket: Basket,
  fingerprint: string,
  { till }: TillScene,
  receipt: ComputedReceipt,
): Promise<number> {
  return writeReceipt(deed.db, {
    id: basket.id,
    saleId: basket.saleId,
    tillId: basket.tillId,
    tillSessionId: till!.sessionId!,
    kind: "sale",
    reversesId: null,
    subtotal: receipt.subtotal,
    tax: receipt.tax,
    total: receipt.total,
    cashGiven: receipt.cashGiven,
    change: receipt.change,
    fingerprint,
    reason: "",
    cashierId: deed.actor.id,
    requestId: deed.requestId,
    description: `Receipt at till ${till!.number}`,
    entryId: v7(),
    lines: receipt.lines.map(({ memberNumber: _shownOnly, ...line }) => ({
      ...line,
      id: v7(),
      reversesLineId: null,
    })),
    tenders: receipt.tenders.map((tender) => ({ reference: "", ...tender })),
    postings: receiptPostings(receipt, basket.tillId),
  });
}
