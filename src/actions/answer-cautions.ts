import { type Deed, perform } from "../database/perform.ts";
import { checkAnswers } from "../rules/labels/cautions/cautions.ts";
import type { Cloth } from "../rules/labels/cautions/flame.ts";
import { wholeDetails } from "../rules/labels/details.ts";
import { ok, problem, type Result } from "../rules/problem.ts";
import { editable } from "./edit-item.ts";
import { entriesAllowed } from "./entry-rules.ts";
import { lockItem, lockMember, shareSale } from "./lock-rows.ts";
import { ownItem } from "./own-item.ts";

export interface CautionAnswers {
  itemId: string;
  /** The version that was on the screen. */
  version: number;
  answers: Record<string, string>;
  cloth: Cloth | null;
}

type Answered = { id: string; version: number };

/** Answers what the kind of piece calls for. The rest of its label stays as it is. */
export const answerCautions = (
  deed: Deed,
  given: CautionAnswers,
  now: Date,
): Promise<Result<Answered>> =>
  perform(deed, "answer-cautions", given, async (tx) => {
    const own = await ownItem(tx, deed.actor, given.itemId);
    if (!own.ok) return own;
    const { kind, labelDetails, saleId, memberId, tag } = own.value;
    const sale = await shareSale(tx, saleId);
    if (!sale.ok) return sale;
    const open = entriesAllowed(sale.value, deed.actor, now);
    if (!open.ok) return open;
    await lockMember(tx, memberId);
    const locked = await lockItem(tx, tag);
    const free = await editable(tx, locked, given.version);
    if (!free.ok) return free;
    const errors = checkAnswers(kind.labelGroup || kind.code, given.answers);
    if (errors[0])
      return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
    const { answers, cloth } = given;
    const details = { ...wholeDetails(labelDetails as object), answers, cloth };
    await tx.item.update({
      where: { id: locked.id },
      data: { labelDetails: details as object, version: { increment: 1 } },
    });
    const value = { id: locked.id, version: locked.version + 1 };
    return ok({ value, subjectId: locked.id, detail: { tag, answers } });
  });
