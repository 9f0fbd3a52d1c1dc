import { createHash } from "node:crypto";
import type { OutboxEntry } from "../contract/till-fact.ts";
import { type Imported, type UnsentFile, unsentEntries } from "../contract/unsent-file.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuseField } from "../rules/problem.ts";
import { recordEntry } from "./record-entry.ts";

/**
 * Records what a till saved because its way to the server stayed shut. Each entry is recorded as if
 * the till had sent it, once, however often the file comes and whatever the till itself sends
 * later. At the first entry that cannot be taken the rest waits: the file can be brought again.
 */
export async function importUnsent(
  deed: Deed,
  given: { saleId: string; file: UnsentFile },
): Promise<Result<Imported>> {
  const { saleId, file } = given;
  const { id: tillId, number } = file.till;
  const till = await deed.db.till.findFirst({
    where: { id: tillId, saleId },
    include: { device: true },
  });
  if (!till?.device)
    return refuseField(
      "file",
      `This file is of till ${number} of another sale. Look for the sale that it belongs to.`,
    );
  const entries = readEntries(file);
  if (!entries.ok) return entries;
  const done = await recordAll(deed, { tillId, saleId }, entries.value);
  const { recorded, before, waiting } = done;
  const detail = { number, savedAt: file.savedAt, sha256: file.sha256, recorded, before, waiting };
  return perform({ ...deed, key: undefined }, "import-unsent", detail, async () =>
    ok({ value: { tillNumber: till.number, ...done }, subjectId: tillId, detail }),
  );
}

/** The hash is of the text itself, so it is looked at before anything in it is believed. */
function readEntries({ entries, sha256 }: UnsentFile): Result<OutboxEntry[]> {
  const damaged = refuseField(
    "file",
    "This file is damaged or was changed: nothing of it was recorded. Save it once more on the till, and bring the new one.",
  );
  if (createHash("sha256").update(entries).digest("hex") !== sha256) return damaged;
  const read = unsentEntries.safeParse(jsonOf(entries));
  return read.success ? ok(read.data) : damaged;
}

function jsonOf(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

async function recordAll(
  { db, requestId }: Deed,
  till: { tillId: string; saleId: string },
  entries: readonly OutboxEntry[],
): Promise<Omit<Imported, "tillNumber">> {
  const counts = { now: 0, before: 0 };
  let notes = 0;
  for (const [index, entry] of entries.entries()) {
    const done = await recordEntry({ db, requestId, ...till }, entry);
    if (!done.ok) {
      const { detail: why } = done.problem;
      return {
        recorded: counts.now,
        before: counts.before,
        notes,
        waiting: entries.length - index,
        why,
      };
    }
    counts[done.value.recorded] += 1;
    notes += done.value.notes.length;
  }
  return { recorded: counts.now, before: counts.before, notes, waiting: 0 };
}
