import type { ShiftInput } from "../../contract/shift.ts";
import type { Database, Transaction } from "../../database/client.ts";
import type { SaleRead } from "../../database/sales.ts";
import { ok, type Result, refuse, refuseField } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { isFarFrom, shiftTime } from "../../rules/shifts/shift-time.ts";
import { shareSale } from "../lock-rows.ts";

interface Taken {
  /** `null` while it is only about to be written. */
  id: string | null;
  memberId: string;
  standIn: string;
  startsAt: Date;
  minutes: number;
}

/** What decides about a planned shift: the sale, the guild's clock, who there is and their shifts. */
export interface ShiftScene {
  sale: SaleRead;
  timeZone: string;
  members: Map<number, { id: string; number: number; name: string }>;
  taken: Taken[];
}

export interface PlannedShift {
  memberId: string;
  task: string;
  standIn: string;
  startsAt: Date;
  minutes: number;
}

/** The sale, kept at its stage, when work may still be planned and ticked. */
export async function saleForShifts(tx: Transaction, saleId: string): Promise<Result<SaleRead>> {
  const sale = await shareSale(tx, saleId);
  if (!sale.ok || allows(sale.value.stage, "keep-shifts")) return sale;
  return refuse("stage-closed", `${sale.value.name} is closed. Its shifts stay as they are.`);
}

export async function shiftScene(
  db: Database | Transaction,
  sale: SaleRead,
  numbers: readonly number[],
): Promise<ShiftScene> {
  const { timeZone } = await db.guild.findFirstOrThrow();
  const members = await db.member.findMany({
    where: { number: { in: [...numbers] } },
    select: { id: true, number: true, name: true },
  });
  const taken = await db.shift.findMany({
    where: { saleId: sale.id, memberId: { in: members.map(({ id }) => id) }, withdrawnAt: null },
    select: { id: true, memberId: true, standIn: true, startsAt: true, minutes: true },
  });
  return { sale, timeZone, members: new Map(members.map((one) => [one.number, one])), taken };
}

/** Members keep their place in the queue, so that nobody gets two shifts at one time. */
export async function lockMembers(tx: Transaction, numbers: readonly number[]): Promise<void> {
  await tx.$queryRaw`
    SELECT 1 FROM member WHERE number = ANY(${[...numbers]}) ORDER BY number FOR NO KEY UPDATE`;
}

/** A shift as it would be kept, or what is wrong with it; `but` is the shift that it replaces. */
export function judgeShift(
  scene: ShiftScene,
  input: ShiftInput,
  but?: string,
): Result<PlannedShift> {
  const member = scene.members.get(input.member);
  if (!member) return refuseField("member", "Nobody in the guild has this number.");
  if (isFarFrom(input.day, scene.sale))
    return refuseField("day", `This day is far from ${scene.sale.name}. Check the year.`);
  const time = shiftTime(input, scene.timeZone);
  if (!time.ok) return time;
  const { task, standIn } = input;
  const startsAt = new Date(time.value.startsAt);
  const planned = { memberId: member.id, task, standIn, startsAt, minutes: time.value.minutes };
  if (scene.taken.some((other) => other.id !== but && clash(planned, other)))
    return refuseField("start", `Member ${member.number} has a shift at that time already.`);
  return ok(planned);
}

/** Nobody works in two places at once; a stand-in is somebody else. */
function clash(one: PlannedShift, other: Taken): boolean {
  const samePerson =
    one.memberId === other.memberId && one.standIn.toLowerCase() === other.standIn.toLowerCase();
  return (
    samePerson && one.startsAt.getTime() < endOf(other) && other.startsAt.getTime() < endOf(one)
  );
}

const endOf = ({ startsAt, minutes }: { startsAt: Date; minutes: number }): number =>
  startsAt.getTime() + minutes * 60_000;
