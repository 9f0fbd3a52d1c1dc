import type { GoodChange, GoodInput } from "../contract/guild-goods.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { changedMeanwhile, lockSale } from "./sale-lock.ts";

/** More buttons than this nobody finds in a queue. */
const mostGoods = 24;

/** Adds a button for the guild's own goods or for gifts, behind the others. */
export const addGood = (
  deed: Deed,
  saleId: string,
  input: GoodInput,
): Promise<Result<{ id: string }>> =>
  perform(deed, "add-good", { saleId, input }, async (tx) => {
    const sale = await lockSale(tx, saleId);
    if (!sale.ok) return sale;
    const there = await tx.guildGood.findMany({ where: { saleId, retiredAt: null } });
    const fits = await judge(tx, sale.value, there, input);
    if (!fits.ok) return fits;
    const position = Math.max(0, ...there.map((good) => good.position)) + 1;
    const { id } = await tx.guildGood.create({ data: { ...row(input), saleId, position } });
    return ok({ value: { id }, subjectId: id, detail: { name: input.name } });
  });

/** Changes a button, moves it, or takes it off the tills; receipts keep what they say. */
export const changeGood = (
  deed: Deed,
  id: string,
  change: GoodChange,
): Promise<Result<{ id: string; version: number }>> =>
  perform(deed, "change-good", { id, change }, async (tx) => {
    const good = await tx.guildGood.findUnique({ where: { id } });
    if (!good) return refuse("not-found", "There is no such button.");
    const sale = await lockSale(tx, good.saleId);
    if (!sale.ok) return sale;
    const others = await tx.guildGood.findMany({
      where: { saleId: good.saleId, retiredAt: null, id: { not: id } },
    });
    const fits = await judge(tx, sale.value, change.retired ? [] : others, change);
    if (!fits.ok) return fits;
    const { version, retired, position, ...input } = change;
    const { count } = await tx.guildGood.updateMany({
      where: { id, version },
      data: {
        ...row(input),
        position,
        retiredAt: retired ? (good.retiredAt ?? new Date()) : null,
        version: { increment: 1 },
      },
    });
    if (count === 0) return changedMeanwhile();
    const value = { id, version: version + 1 };
    return ok({ value, subjectId: id, detail: { name: change.name, retired } });
  });

/** Whether a button fits beside `others`, which are at the tills too. */
async function judge(
  tx: Transaction,
  { stage }: SaleRead,
  others: readonly { name: string }[],
  { name, taxKind }: GoodInput,
): Promise<Result<true>> {
  if (!allows(stage, "edit-sale"))
    return refuse("stage-closed", "This sale is closed. Its buttons stay as they are.");
  if (others.length >= mostGoods)
    return refuse("limit-reached", `${mostGoods} buttons are there already. Take one off first.`);
  if (others.some((other) => same(other.name, name)))
    return refuseField("name", "Another button has this name. Choose another.");
  // The tax rules know a kind by its code; one that nobody has would be taxed like everything.
  if (taxKind !== "" && !(await tx.kind.findUnique({ where: { code: taxKind } })))
    return refuseField("taxKind", "Choose a kind from the guild's list, or none.");
  return ok(true);
}

const row = ({ price, ...input }: GoodInput) => ({
  ...input,
  price: price === null ? null : BigInt(price),
});

const same = (one: string, other: string): boolean =>
  one.toLocaleLowerCase() === other.toLocaleLowerCase();
