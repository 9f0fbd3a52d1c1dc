import { addSale } from "../../actions/add-sale.ts";
import { planCheckInTimes } from "../../actions/check-in-times/plan-times.ts";
import { addGood } from "../../actions/guild-goods.ts";
import { moveSale } from "../../actions/move-sale.ts";
import { addTill } from "../../actions/tills.ts";
import type { Database } from "../../database/client.ts";
import type { Stage } from "../../rules/sale-stage.ts";
import { flatTax } from "../../rules/tax/tax-rules.ts";
import { type Cast, must } from "./guild.ts";

const agreement = `Everything I enter is my own handwork and is not a copy of a maker's goods.
My tags say truly what each piece is made of and how to care for it.
The guild keeps its percentage of what sells. I collect what did not sell on the last evening.
The guild takes good care of my pieces, but does not insure them.`;

const guildGoods = [
  ["Cloth bag", "goods", 300],
  ["Raffle ticket", "goods", 200],
  ["Gift to the guild", "donation", null],
] as const;

export interface Plan {
  name: string;
  tills: number;
  /** Days until its first day; 0 when it starts today. */
  startsIn: number;
  /** Whether prices go down on its third day, where the member allowed it. */
  markdown: boolean;
}

const dayText = (day: Date): string => day.toISOString().slice(0, 10);
const daysAfter = (day: Date, days: number): Date => new Date(day.getTime() + days * 86_400_000);

/** The chair plans a sale with its tills; entries may come until its second day. */
export async function planSale(
  cast: Cast,
  plan: Plan,
): Promise<{ saleId: string; tills: string[] }> {
  const chair = cast.as(cast.the("chair"));
  const firstDay = daysAfter(new Date(), plan.startsIn);
  const { id: saleId } = must(
    await addSale(chair, {
      name: plan.name,
      place: "The Mill Room, Alder Creek",
      firstDay: dayText(firstDay),
      lastDay: dayText(daysAfter(firstDay, 2)),
      entryDeadline: daysAfter(firstDay, 1).toISOString(),
      guildRate: 20_000,
      tax: flatTax(8_250, "Sales tax"),
      ...{ cashStep: 1, cashFives: "up", markdownRate: 20_000 },
      markdownFrom: plan.markdown ? daysAfter(firstDay, 2).toISOString() : null,
      priceStep: 100,
      priceFloor: 500,
      itemLimit: 60,
      kindLimits: [],
      receiptFooter: "Every piece was woven by hand. Returns within 14 days with this receipt.",
      agreement,
    }),
  );
  for (const [name, kind, price] of guildGoods)
    must(await addGood(chair, saleId, { name, kind, price, taxKind: "" }));
  const tills: string[] = [];
  for (const name of ["Front till", "Door till", "Yarn corner"].slice(0, plan.tills))
    tills.push(must(await addTill(chair, saleId, { name })).id);
  return { saleId, tills };
}

/** The sale after this one: its entries are open, so that a member of the demo can enter a piece. */
export async function nextSale(db: Database, cast: Cast): Promise<void> {
  const startsIn = 150;
  const year = daysAfter(new Date(), startsIn).getUTCFullYear();
  const { saleId } = await planSale(cast, {
    name: `Spring sale ${year}`,
    tills: 2,
    startsIn,
    markdown: true,
  });
  await moveTo(db, cast, saleId, "entries-open");
  const day = daysAfter(new Date(), startsIn - 1)
    .toISOString()
    .slice(0, 10);
  const times = { day, start: "10:00", end: "16:00", each: 60, places: 8 };
  must(await planCheckInTimes(cast.as(cast.the("chair")), saleId, times));
}

/** The chair moves a sale on, one stage at a time. */
export async function moveTo(
  db: Database,
  cast: Cast,
  saleId: string,
  ...to: Stage[]
): Promise<void> {
  for (const stage of to) {
    const { version } = await db.sale.findUniqueOrThrow({ where: { id: saleId } });
    must(await moveSale(cast.as(cast.the("chair")), saleId, { to: stage, reason: "", version }));
  }
}
