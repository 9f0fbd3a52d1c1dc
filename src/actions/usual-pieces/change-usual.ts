import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";

export interface EditUsual {
  id: string;
  /** The version that was on the screen. */
  version: number;
  name: string;
  price: number;
}

type Changed = { id: string; version: number };

export const editUsual = (deed: Deed, given: EditUsual): Promise<Result<Changed>> =>
  perform(deed, "edit-usual-piece", given, (tx) =>
    change(tx, deed, given, { name: given.name, price: BigInt(given.price) }),
  );

/** Puts a piece away that is no longer made, or brings it back. Nothing is lost either way. */
export const putUsualAway = (
  deed: Deed,
  given: { id: string; version: number; away: boolean },
  now: Date,
): Promise<Result<Changed>> =>
  perform(deed, given.away ? "put-usual-piece-away" : "bring-usual-piece-back", given, (tx) =>
    change(tx, deed, given, { putAwayAt: given.away ? now : null }),
  );

async function change(
  tx: Transaction,
  { actor }: Deed,
  { id, version }: { id: string; version: number },
  data: { name?: string; price?: bigint; putAwayAt?: Date | null },
) {
  const own = { id, memberId: actor.id };
  const { count } = await tx.usualPiece.updateMany({
    where: { ...own, version },
    data: { ...data, version: { increment: 1 } },
  });
  if (count === 1) return ok({ value: { id, version: version + 1 }, subjectId: id });
  const there = await tx.usualPiece.count({ where: own });
  if (there === 0)
    return refuse("not-found", "There is no such piece among yours. Nothing was changed.");
  return refuse(
    "changed-meanwhile",
    "It was changed in another window. Load the page again to see how it stands now.",
  );
}
