import type { Transaction } from "../database/client.ts";
import type { Actor } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import { checkItem, type ItemDetails } from "../rules/item.ts";
import { labelErrors } from "../rules/labels/item-label.ts";
import { type LabelSetting, settingOf } from "../rules/labels/label-setting.ts";
import {
  type FieldError,
  ok,
  problem,
  type Result,
  refuse,
  refuseField,
} from "../rules/problem.ts";
import { hasAny } from "../rules/roles.ts";
import { checkLimits } from "../rules/sale-rules.ts";
import { mayEnterItem, stageForEntries } from "../rules/sale-stage.ts";

/** The desk and the chair may do for any member what the member may do alone. */
export const helpsOthers = (actor: Actor): boolean => hasAny(actor.roles, ["desk", "chair"]);

/** Whether this person may enter pieces in this member's name. */
export const mayEnterFor = (actor: Actor, memberId: string): Result<true> =>
  memberId === actor.id || helpsOthers(actor)
    ? ok(true)
    : refuse("not-allowed", "Only the desk or the chair can enter pieces for somebody else.");

/** Whether this person may enter or change entries of a sale now. */
export function entriesAllowed(sale: SaleRead, actor: Actor, now: Date): Result<true> {
  const late = now > new Date(sale.entryDeadline);
  if (mayEnterItem(stageForEntries(sale.stage, late), actor.roles)) return ok(true);
  const waiting = sale.stage === "planning";
  return refuse(
    "stage-closed",
    waiting
      ? `Entries for ${sale.name} are not open yet. Nothing was recorded. Come back when the chair has opened them.`
      : `Entries for ${sale.name} are closed. Nothing was recorded. Ask the desk or the chair: they can help until the sale ends.`,
  );
}

export const tickWords = "Read what this sale asks of you, and tick that you agree.";

/**
 * Records that the member agrees to what the sale asks, once for each wording. At the desk the
 * helper ticks it for a member who agreed in person.
 */
export async function acceptTerms(
  tx: Transaction,
  sale: SaleRead,
  memberId: string,
  agreed: number | undefined,
): Promise<Result<true>> {
  const key = { saleId: sale.id, version: sale.agreementVersion };
  if (!(await tx.agreement.findUnique({ where: { saleId_version: key } }))) return ok(true);
  const row = { ...key, memberId };
  const before = await tx.acceptance.findUnique({ where: { saleId_version_memberId: row } });
  if (before) return ok(true);
  const field = "agreementVersion";
  if (agreed === undefined) return refuseField(field, tickWords);
  if (agreed !== sale.agreementVersion) {
    const message =
      "The wording has changed since you read it. Read it again and tick that you agree.";
    return refuse("changed-meanwhile", message, [{ field, message }]);
  }
  await tx.acceptance.createMany({ data: [row], skipDuplicates: true });
  return ok(true);
}

/**
 * Checks items against the sale, the list of kinds and the law of their labels; gives the kind's
 * id for each of them.
 */
export async function checkItems(
  tx: Transaction,
  sale: SaleRead,
  memberId: string,
  items: readonly ItemDetails[],
  prefix: (index: number) => string,
  keepsKind?: string,
): Promise<Result<string[]>> {
  const guild = await tx.guild.findFirstOrThrow();
  const kinds = await tx.kind.findMany({ where: { code: { in: items.map(({ kind }) => kind) } } });
  const member = await tx.member.findUniqueOrThrow({ where: { id: memberId } });
  const setting = settingOf(guild, member);
  const rules = { ...sale, currency: guild.currency };
  const errors: FieldError[] = [];
  const ids = items.map((item, index) => {
    const kind = kinds.find(({ code }) => code === item.kind);
    if (!kind || !(kind.active || kind.id === keepsKind))
      errors.push({ field: `${prefix(index)}kind`, message: "Choose a kind from the list." });
    const labelKind = kind?.labelGroup || item.kind;
    const faults = checkItem(item, rules, prefix(index), labelKind);
    errors.push(
      ...(faults.length > 0 ? faults : labelFaults(item, labelKind, setting, prefix(index))),
    );
    return kind?.id ?? "";
  });
  if (errors.length === 0) return ok(ids);
  const detail = "Nothing was recorded yet. What you typed is still here.";
  return { ok: false, problem: problem("invalid-input", detail, errors) };
}

const labelFaults = (
  { description: title, fibres, label }: ItemDetails,
  kind: string,
  setting: LabelSetting,
  prefix: string,
): FieldError[] =>
  labelErrors({ title, kind, fibres, label }, setting).map(({ field, message }) => ({
    field: prefix + field,
    message,
  }));

interface Added {
  kindId: string;
  prefix: string;
}

/** Counts what the member holds in the sale already and refuses what goes over a limit. */
export async function withinLimits(
  tx: Transaction,
  sale: SaleRead,
  memberId: string,
  added: readonly Added[],
  leaveOut?: string,
): Promise<Result<true>> {
  const faults = await limitFaults(tx, sale, memberId, added, leaveOut);
  const index = faults.findIndex((errors) => errors.length > 0);
  return index === -1 ? ok(true) : overLimit(faults[index] ?? [], added[index]?.prefix ?? "");
}

/** For each item that is added, which limits it would go over; such a one does not count itself. */
export async function limitFaults(
  tx: Transaction,
  sale: SaleRead,
  memberId: string,
  added: readonly Pick<Added, "kindId">[],
  leaveOut?: string,
): Promise<FieldError[][]> {
  const limits = sale.kindLimits;
  if (sale.itemLimit === null && limits.length === 0) return added.map(() => []);
  const held = await tx.item.groupBy({
    by: ["kindId"],
    where: {
      ...{ saleId: sale.id, memberId, withdrawnAt: null },
      ...(leaveOut ? { id: { not: leaveOut } } : {}),
    },
    _count: true,
  });
  const ofKind = new Map(held.map((row) => [row.kindId, row._count]));
  let items = held.reduce((sum, row) => sum + row._count, 0);
  return added.map(({ kindId }) => {
    const most = limits.find((limit) => limit.kindId === kindId)?.most ?? null;
    const entered = { items, ofKind: ofKind.get(kindId) ?? 0 };
    const errors = checkLimits({ items: sale.itemLimit, ofKind: most }, entered);
    if (errors.length > 0) return errors;
    items += 1;
    ofKind.set(kindId, entered.ofKind + 1);
    return [];
  });
}

function overLimit(errors: FieldError[], prefix: string) {
  const named = errors.map(({ field, message }) => ({
    // The limit for all items belongs to no field of one item.
    field: field === "items" ? field : prefix + field,
    message,
  }));
  return refuse("limit-reached", `${errors[0]?.message} Nothing was recorded.`, named);
}
