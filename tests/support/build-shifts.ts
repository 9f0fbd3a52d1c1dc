import { planShift } from "../../src/actions/shifts/plan-shift.ts";
import type { ShiftInput } from "../../src/contract/shift.ts";
import type { Database } from "../../src/database/client.ts";
import type { Policy } from "../../src/rules/policy/policy.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "./build.ts";
import { done } from "./build-settlement.ts";

/** A guild with a sale that is selling, a member, and the people who plan and tick. */
export async function buildHelpers(db: Database) {
  await buildGuild(db);
  const weaver = await buildMember(db);
  const other = await buildMember(db);
  const chair = await buildMember(db, ["chair"]);
  const desk = await buildMember(db, ["desk"]);
  const treasurer = await buildMember(db, ["treasurer"]);
  const sale = await buildSale(db, { stage: "selling" });
  return { weaver, other, chair, desk, treasurer, sale };
}

export type Helpers = Awaited<ReturnType<typeof buildHelpers>>;

/** Friday, 9:00 to 12:30, at the till. */
export const shiftOf = (member: number, more: Partial<ShiftInput> = {}): ShiftInput => ({
  ...{ member, day: "2026-11-27", start: "09:00", end: "12:30", task: "Cashier", standIn: "" },
  ...more,
});

export const plan = async (db: Database, people: Helpers, more: Partial<ShiftInput> = {}) =>
  done(
    await planShift(deedOf(db, people.desk), people.sale.id, shiftOf(people.weaver.number, more)),
  );

/** 30 % under two hours of work, 20 % from two hours on, 10 % for the committee; one class. */
export async function hoursPolicy(db: Database, saleId: string): Promise<void> {
  const { policy } = await db.salePolicy.findFirstOrThrow({ where: { saleId } });
  const rates = {
    ...{ ordinary: 30_000, visitor: 15_000, committee: 10_000, kinds: [] },
    classes: [{ code: "honorary", name: "Honorary members", rate: 5_000 }],
    hours: [{ fromMinutes: 120, rate: 20_000 }],
  };
  const changed = { ...(policy as unknown as Policy), rates };
  await db.salePolicy.create({ data: { saleId, version: 2, policy: changed as object } });
}
