import { changePolicy } from "../../actions/change-policy.ts";
import { setManySellers } from "../../actions/sellers/set-many-sellers.ts";
import { planShift } from "../../actions/shifts/plan-shift.ts";
import { tickShift } from "../../actions/shifts/tick-shift.ts";
import type { PolicyChangeInput } from "../../contract/policy.ts";
import type { Database } from "../../database/client.ts";
import type { Actor } from "../../database/perform.ts";
import type { Dice } from "./dice.ts";
import { type Cast, must } from "./guild.ts";

/** Less for those who work, a fee to enter, something for a missed shift and for a lost piece. */
const policy: PolicyChangeInput["policy"] = {
  rates: {
    ...{ ordinary: 30_000, visitor: null, committee: 10_000, classes: [], kinds: [] },
    hours: [
      { fromMinutes: 120, rate: 20_000 },
      { fromMinutes: 360, rate: 15_000 },
    ],
  },
  rounding: { basis: "line", halves: "up" },
  fees: { entry: 500, firstEntry: null, late: 200, lateFor: "item", missedShift: 2_000 },
  cardFee: { way: "price", rate: 2_600, fixed: 0 },
  loss: { rule: "capped", cap: 20_000, aboveCap: 50_000 },
  payout: { minimum: 500, tenders: [{ method: "cheque", upTo: null }] },
};

/** The guild decides its terms before anybody enters, and says who is on the committee. */
export async function decideTerms(cast: Cast, saleId: string): Promise<void> {
  const chair = cast.as(cast.the("chair"));
  must(
    await changePolicy(chair, {
      ...{ saleId, policy, replaces: 1 },
      reason: "As the members decided at their meeting in spring.",
    }),
  );
  const memberIds = [cast.the("chair").id, cast.the("treasurer").id];
  const committee = { memberIds, change: "committee" as const, on: true, classCode: null };
  must(await setManySellers(chair, saleId, committee));
}

const tasks = ["Cashier", "Wrapping", "Greeting", "Check-in", "Set-up"];

/** A shift for two of three members on the first day, longer ones for some; the rest come later. */
export async function planWork(cast: Cast, dice: Dice, saleId: string, day: string): Promise<void> {
  const desk = cast.as(cast.the("desk"));
  for (const member of cast.members) {
    if (dice.between(1, 3) === 1) continue;
    const hours = dice.between(2, 6);
    const start = dice.between(9, 12);
    const end = `${String(start + hours).padStart(2, "0")}:00`;
    const times = { day, start: `${String(start).padStart(2, "0")}:00`, end };
    const task = tasks[dice.between(0, tasks.length - 1)] ?? "Cashier";
    must(await planShift(desk, saleId, { member: member.number, ...times, task, standIn: "" }));
  }
}

/** Nearly everybody came; `open` shifts wait for their tick. */
export async function tickWork(
  db: Database,
  cast: Cast,
  dice: Dice,
  { saleId, open }: { saleId: string; open: number },
): Promise<void> {
  const desk: Actor = cast.the("desk");
  const shifts = await db.shift.findMany({ where: { saleId }, orderBy: { id: "asc" }, skip: open });
  for (const { id: shiftId, minutes, version } of shifts) {
    const came = dice.between(1, 12) > 1;
    const tick = came
      ? { mark: "worked" as const, minutes }
      : { mark: "missed" as const, minutes: null };
    must(await tickShift(cast.as(desk), { shiftId, version, ...tick }, new Date()));
  }
}
