import { createHash } from "node:crypto";
import { v7 } from "uuid";
import type { OutboxAnswer, ReceiptFact } from "../contract/till-fact.ts";
import { backOff } from "../database/back-off.ts";
import { canonical } from "../database/canonical.ts";
import type { Database } from "../database/client.ts";
import {
  databaseError,
  dataRefused,
  mayRunAgain,
  outcomeUnknown,
} from "../database/database-error.ts";
import { type FactScene, readFactScene } from "../database/fact-scene.ts";
import { unknown } from "../database/perform.ts";
import {
  type NoteToWrite,
  type ReceiptToWrite,
  writeReceipt,
} from "../database/receipt-writing.ts";
import { announceTillChange } from "../database/till-announce.ts";
import { factAddsUp } from "../rules/fact.ts";
import { receiptPostings } from "../rules/ledger-entries.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { showReceiptNumber } from "../rules/receipt-number.ts";
import { wholeInSuspense } from "./broken-fact.ts";
import { clearSuspense } from "./clear-suspense.ts";
import { clockNotes } from "./clock-notes.ts";
import { differing } from "./differing-receipt.ts";
import { figuresDiffer } from "./fact-figures.ts";
import { returnedLines, soldLines } from "./fact-lines.ts";

/** What a till's device sends with: there is no signed-in person, the fact names its cashier. */
export interface FromTill {
  db: Database;
  tillId: string;
  saleId: string;
  requestId: string;
  /** Milliseconds by which the till's clock was ahead as it sent, when it said so. */
  clockAhead?: number;
}

/** Another till or a twin of this request was quicker: reading again tells which. */
const overtaken = new Set([
  "count_on_floor",
  "receipt_pkey",
  "receipt_till_id_number_key",
  "number-gap",
  "returned-already",
  "till-closed",
  "sale-stage",
]);

const tries = 6;

/**
 * Records what a till with a device of its own has sold or taken back. The money has changed
 * hands, so whatever it says is kept: what does not fit the books goes to suspense and onto the
 * treasurer's list. What the database refuses goes whole into suspense, since it would hold up
 * every later receipt of its till. It is refused only while it cannot be recorded in its order.
 */
export async function recordFact(from: FromTill, fact: ReceiptFact): Promise<Result<OutboxAnswer>> {
  const fingerprint = createHash("sha256").update(canonical(fact)).digest("hex");
  let refusal: string | undefined;
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await once(from, fact, fingerprint, refusal);
    } catch (error) {
      const rule = databaseError(error)?.rule ?? "";
      if (mayRunAgain(error) || overtaken.has(rule)) {
        if (attempt === tries) throw error;
        if (attempt > 1) await backOff(attempt);
        continue;
      }
      if (outcomeUnknown(error)) return { ok: false, problem: unknown() };
      if (refusal !== undefined || !dataRefused(error)) throw error;
      refusal = rule;
    }
  }
}

async function once(
  from: FromTill,
  fact: ReceiptFact,
  fingerprint: string,
  refusal: string | undefined,
): Promise<Result<OutboxAnswer>> {
  const scene = await readFactScene(from.db, {
    tillId: from.tillId,
    receiptId: fact.id,
    sessionId: fact.tillSessionId,
    cashierId: fact.cashierId,
    reversesId: fact.reversesId,
    tags: fact.lines.flatMap(({ tag }) => (tag ? [tag] : [])),
    memberNumbers: fact.lines.flatMap(({ memberNumber }) => (memberNumber ? [memberNumber] : [])),
  });
  if (!scene)
    return refuse("not-found", "There is no such till. Everything on this device is kept.");
  const clear = (byId: string) =>
    clearSuspense({ db: from.db, requestId: from.requestId, byId }, fact.id);
  if (scene.earlier) {
    const answer = await before(from, fact, fingerprint, scene);
    // A server that died right after the receipt was stored has not come to this.
    await clear(scene.cashierId);
    return ok(answer);
  }
  const hindered = hindrance(fact, scene);
  if (hindered) return hindered;
  const { receipt, notes } = toWrite(from, fact, fingerprint, scene, refusal);
  await writeReceipt(from.db, receipt, notes);
  announceTillChange(from.db);
  await clear(receipt.cashierId);
  return ok({ id: fact.id, recorded: "now", notes: notes.map(({ kind }) => kind) });
}

/** Only what keeps the order of the books holds a fact up; the till keeps it and sends it again. */
function hindrance(fact: ReceiptFact, scene: FactScene): ReturnType<typeof refuse> | undefined {
  const name = showReceiptNumber(scene.tillNumber, fact.number);
  if (scene.stage !== "selling" && scene.stage !== "settling")
    return refuse(
      "stage-closed",
      `Receipt ${name} is kept on the till: the sale does not take receipts now. Ask the chair.`,
    );
  if (!scene.sessionId)
    return refuse(
      "till-closed",
      `Receipt ${name} is kept on the till: its drawer is cashed up. Open the till again with a float of 0, and cash it up once all is sent.`,
    );
  if (fact.number > scene.nextNumber)
    return refuse(
      "out-of-order",
      `Receipt ${name} is kept on the till: an earlier one has not arrived yet.`,
    );
  return undefined;
}

/** The same receipt again; with other content both versions are kept for the treasurer. */
async function before(
  from: FromTill,
  fact: ReceiptFact,
  fingerprint: string,
  scene: FactScene,
): Promise<OutboxAnswer> {
  if (scene.earlier!.fingerprint === fingerprint)
    return { id: fact.id, recorded: "before", notes: [] };
  const { db, requestId } = from;
  await differing({ db, requestId, byId: scene.cashierId }, fact, fingerprint);
  return { id: fact.id, recorded: "before", notes: ["receipt-differs"] };
}

function toWrite(
  from: FromTill,
  fact: ReceiptFact,
  fingerprint: string,
  scene: FactScene,
  refusal: string | undefined,
): { receipt: ReceiptToWrite; notes: NoteToWrite[] } {
  const addsUp = factAddsUp(fact);
  const sound = addsUp && refusal === undefined ? fact : wholeInSuspense(fact);
  const found = fact.kind === "sale" ? soldLines(sound, scene) : returnedLines(sound, scene);
  const notes = [
    ...found.notes,
    ...aboutFact(fact, sound, scene),
    ...clockNotes(fact, scene, from.clockAhead ?? 0),
  ];
  if (addsUp && refusal !== undefined)
    notes.push({ kind: "not-as-sent", detail: { sent: fact, rule: refusal } });
  const { lines } = found;
  const taxes = sound.taxes.filter(({ tax }) => tax !== 0);
  const { id, madeAt, kind, exchangeId, tenders } = sound;
  const { subtotal, tax, total, cashGiven, change, rounding, exemption } = sound;
  // A till's page asks for a reason; without one the money has gone back all the same.
  const reason = sound.reason || (kind === "sale" ? "" : "No reason given");
  const receipt: ReceiptToWrite = {
    ...{
      id,
      saleId: from.saleId,
      tillId: from.tillId,
      tillSessionId: scene.sessionId!,
      kind,
      exchangeId,
      madeAt,
      late: true,
    },
    reversesId: scene.original?.id ?? null,
    awaitsId: scene.original ? null : fact.reversesId,
    // A number that was given twice keeps its receipt: it stands under the next one, and is told.
    number: fact.number < scene.nextNumber ? null : fact.number,
    ...{ subtotal, tax, total, cashGiven, change, rounding, exemption, reason, fingerprint },
    cashierId: scene.cashierId,
    requestId: from.requestId,
    description: `${words[kind]} at till ${scene.tillNumber}`,
    entryId: v7(),
    ...{ lines, taxes, tenders },
    postings: receiptPostings({ lines, taxes, tenders, rounding }, from.tillId),
  };
  return { receipt, notes };
}

const words = { sale: "Receipt", return: "Return", void: "Void" };

/** What is strange about the fact as a whole. */
function aboutFact(fact: ReceiptFact, sound: ReceiptFact, scene: FactScene): NoteToWrite[] {
  const notes: NoteToWrite[] = [];
  if (!factAddsUp(fact)) notes.push({ kind: "figures-broken", detail: { sent: fact } });
  else if (fact.kind === "sale" && sound === fact) notes.push(...figuresDiffer(fact, scene));
  if (fact.number < scene.nextNumber)
    notes.push({ kind: "number-twice", detail: { sent: fact.number, recorded: scene.nextNumber } });
  if (fact.tillSessionId !== scene.sessionId)
    notes.push({ kind: "after-cash-up", detail: { sent: fact.tillSessionId } });
  if (!scene.cashierKnown)
    notes.push({ kind: "cashier-unknown", detail: { sent: fact.cashierId } });
  return notes;
}
