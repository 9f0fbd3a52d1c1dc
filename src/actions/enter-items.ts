import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result } from "../rules/problem.ts";
import { type Entered, type Entry, writeItems } from "./write-items.ts";

/**
 * Enters several items at once: all of them, or none when one of them has a fault. The faults are
 * named as "items.2.price", so that a form can keep every row and point at the wrong ones.
 */
export const enterItems = (deed: Deed, given: Entry, now: Date): Promise<Result<Entered[]>> =>
  perform(deed, "enter-items", given, async (tx) => {
    const written = await writeItems(tx, deed.actor, given, now, (index) => `items.${index}.`);
    if (!written.ok) return written;
    const tags = written.value.map(({ tag }) => tag);
    return ok({
      value: written.value,
      subjectId: given.memberId,
      detail: { tags, saleId: given.saleId },
    });
  });
