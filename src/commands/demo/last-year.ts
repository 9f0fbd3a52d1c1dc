import { finaliseSettlement } from "../../actions/finalise-settlement.ts";
import { pickUpItems } from "../../actions/pick-up-items.ts";
import { recordPayout } from "../../actions/record-payout.ts";
import type { Database } from "../../database/client.ts";
import { previewSettlement } from "../../database/settlement-preview.ts";
import type { Dice } from "./dice.ts";
import { checkIn, enterGoods } from "./goods-in.ts";
import { type Cast, must } from "./guild.ts";
import { moveTo, planSale } from "./sale.ts";
import { cashUpAll, sell } from "./selling.ts";
import type { Tell } from "./story.ts";
import { turnBackSale, turnBackSettlement } from "./turn-back.ts";

/** One sale from the first entry to the last cheque, by the same deeds that people do. */
export async function lastYearsSale(
  db: Database,
  cast: Cast,
  dice: Dice,
  tell: Tell,
): Promise<string> {
  const firstDay = new Date(Date.now() - 364 * 86_400_000);
  const { saleId, tills } = await planSale(cast, {
    name: `Autumn sale ${firstDay.getUTCFullYear()}`,
    tills: 3,
    startsIn: 0,
    // Its three days are played in one go today, so a third day could not mark anything down.
    markdown: false,
  });
  await moveTo(db, cast, saleId, "entries-open");
  const entered = await enterGoods(cast, dice, saleId, 350);
  await moveTo(db, cast, saleId, "entries-closed", "selling");
  const onFloor = await checkIn(cast, dice, saleId, entered);
  tell(
    `Last year: ${[...entered.values()].flat().length} items entered, ${onFloor.length} checked in.`,
  );
  const receipts = await sell(db, cast, dice, { saleId, tills, onFloor, sold: 68 });
  await cashUpAll(db, cast, tills);
  await moveTo(db, cast, saleId, "settling");
  await turnBackSale(db, saleId, firstDay);
  await goHome(db, cast, saleId);
  tell(`Last year: ${receipts.length} customers at three tills; unsold goods went home.`);
  await settleAndPay(db, cast, saleId, firstDay);
  await moveTo(db, cast, saleId, "closed");
  await turnBackSettlement(db, saleId, firstDay);
  tell("Last year: settled, statements drawn up, members paid.");
  return saleId;
}

/** What did not sell is ticked off at the desk. */
async function goHome(db: Database, cast: Cast, saleId: string): Promise<void> {
  const left = await db.item.findMany({
    where: { saleId, count: { onFloor: { gt: 0 } } },
    orderBy: { tag: "asc" },
    select: { tag: true },
  });
  const tags = left.map(({ tag }) => tag);
  while (tags.length > 0)
    must(await pickUpItems(cast.as(cast.the("desk")), { saleId, tags: tags.splice(0, 100) }));
}

async function settleAndPay(
  db: Database,
  cast: Cast,
  saleId: string,
  firstDay: Date,
): Promise<void> {
  const treasurer = cast.as(cast.the("treasurer"));
  const { fingerprint } = await previewSettlement(db, saleId);
  const settled = must(await finaliseSettlement(treasurer, { saleId, fingerprint }));
  if (settled.state !== "settled") throw new Error("The demo's guild asks for no second person.");
  const { settlementId } = settled;
  const owed = await db.statement.findMany({
    where: { settlementId, net: { gt: 0 } },
    orderBy: { number: "asc" },
  });
  const paidOn = new Date(firstDay.getTime() + 10 * 86_400_000).toISOString().slice(0, 10);
  let cheque = 2040;
  for (const { id: statementId } of owed) {
    cheque += 1;
    must(
      await recordPayout(treasurer, {
        statementId,
        method: "cheque",
        reference: `No. ${cheque}`,
        paidOn,
      }),
    );
  }
}
