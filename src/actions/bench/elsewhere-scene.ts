import type { ElsewhereInput } from "../../contract/elsewhere.ts";
import type { Transaction } from "../../database/client.ts";
import { checkFibres } from "../../rules/fibre.ts";
import { type FieldError, ok, problem, type Result, refuseField } from "../../rules/problem.ts";
import { guildToday } from "../guild-today.ts";
import { lockMember } from "../lock-rows.ts";

/** The columns of a sale elsewhere, when everything it says can be so. */
export async function judgeElsewhere(
  tx: Transaction,
  memberId: string,
  input: ElsewhereInput,
  kept?: { id: string; kindId: string },
) {
  await lockMember(tx, memberId);
  const kind = await tx.kind.findUnique({ where: { code: input.kind } });
  const today = await guildToday(tx);
  const errors: FieldError[] = [];
  if (!kind || !(kind.active || kind.id === kept?.kindId))
    errors.push({ field: "kind", message: "Choose one from the list." });
  if (input.day > today)
    errors.push({ field: "day", message: "That day has not come yet. Give the day it was sold." });
  if (input.fibres.length > 0) errors.push(...checkFibres(input.fibres));
  if (errors.length > 0 || !kind) {
    const detail = "Nothing was recorded yet. What you typed is still here.";
    return { ok: false as const, problem: problem("invalid-input", detail, errors) };
  }
  const left = await enoughLeft(tx, memberId, input, kept?.id);
  return left.ok ? ok(await columnsOf(tx, memberId, input, kind.id)) : left;
}

/** A piece that is with a buyer of the guild's sale, or sold elsewhere before, cannot sell again. */
async function enoughLeft(
  tx: Transaction,
  memberId: string,
  { itemId, quantity }: ElsewhereInput,
  except?: string,
): Promise<Result<null>> {
  if (itemId === null) return ok(null);
  const item = await tx.item.findFirst({
    where: { id: itemId, memberId },
    include: { count: true },
  });
  if (!item?.count) return refuseField("itemId", "Choose one of your own pieces.");
  const others = await tx.elsewhereSale.aggregate({
    where: { itemId, takenBackAt: null, ...(except ? { NOT: { id: except } } : {}) },
    _sum: { quantity: true },
  });
  const { withMember, onFloor } = item.count;
  const left = withMember + onFloor - (others._sum.quantity ?? 0);
  if (quantity <= left) return ok(null);
  return refuseField(
    "quantity",
    left > 0
      ? `Only ${left} of this entry ${left === 1 ? "is" : "are"} unsold.`
      : "None of this entry is unsold any more.",
  );
}

async function columnsOf(
  tx: Transaction,
  memberId: string,
  { kind: _code, ...input }: ElsewhereInput,
  kindId: string,
) {
  return {
    ...input,
    kindId,
    outlet: await knownOutlet(tx, memberId, input.outlet),
    day: new Date(`${input.day}T00:00:00Z`),
    price: BigInt(input.price),
    keptAmount: input.keptAmount === null ? null : BigInt(input.keptAmount),
    materials: input.materials === null ? null : BigInt(input.materials),
    fibres: input.fibres as object[],
  };
}

/** "corner shop" is the Corner shop of before: one outlet stays one in every figure. */
async function knownOutlet(tx: Transaction, memberId: string, outlet: string): Promise<string> {
  const rows = await tx.$queryRaw<{ outlet: string }[]>`
    SELECT outlet FROM elsewhere_sale WHERE member_id = ${memberId}::uuid AND lower(outlet) = lower(${outlet})
    ORDER BY created_at LIMIT 1`;
  return rows[0]?.outlet ?? outlet;
}
