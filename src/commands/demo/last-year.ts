import { finaliseSettlement } from "../../actions/finalise-settlement.ts";
import { declareLost } from "../../actions/missing-pieces.ts";
import { pickUpItems } from "../../actions/pick-up-items.ts";
import type { Database } from "../../database/client.ts";
import { previewSettlement } from "../../database/settlement-preview.ts";
import { adjust, bank, payByCheque } from "./after-sale.ts";
import type { Dice } from "./dice.ts";
import { checkIn, enterGoods } from "./goods-in.ts";
import { type Cast, must } from "./guild.ts";
import { moveTo, planSale } from "./sale.ts";
import { cashUpAll, sell } from "./selling.ts";
import type { Tell } from "./story.ts";
import { decideTerms, planWork, tickWork } from "./terms.ts";
import { turnBackSale, turnBackSettlement } from "./turn-back.ts";

/** One sale from the first entry to the last cheque, by the same deeds that people do. */
export async function lastYearsSale(
  { db, ownerUrl }: { db: Database; ownerUrl: string },
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
  await decideTerms(cast, saleId);
  await moveTo(db, cast, saleId, "entries-open");
  await planWork(cast, dice, saleId, new Date().toISOString().slice(0, 10));
  const entered = await enterGoods(cast, dice, saleId, 350);
  await moveTo(db, cast, saleId, "entries-closed", "selling");
  const onFloor = await checkIn(cast, dice, saleId, entered);
  tell(
    `Last year: ${[...entered.values()].flat().length} items entered, ${onFloor.length} checked in.`,
  );
  const receipts = await sell(db, cast, dice, { saleId, tills, onFloor, sold: 68 });
  await cashUpAll(db, cast, tills);
  await moveTo(db, cast, saleId, "settling");
  await tickWork(db, cast, dice, { saleId, open: 0 });
  await turnBackSale(ownerUrl, saleId, firstDay);
  await goHome(db, cast, saleId);
  tell(`Last year: ${receipts.length} customers at three tills; unsold goods went home.`);
  await bank(db, cast, saleId, firstDay);
  await adjust(cast, saleId);
  await settle(db, cast, saleId);
  await payByCheque(db, cast, saleId, firstDay);
  await moveTo(db, cast, saleId, "closed");
  await turnBackSettlement(ownerUrl, saleId, firstDay);
  tell("Last year: settled, statements drawn up, members paid.");
  return saleId;
}

/** What did not sell is ticked off at the desk; one piece is nowhere to be found. */
async function goHome(db: Database, cast: Cast, saleId: string): Promise<void> {
  const left = await db.item.findMany({
    where: { saleId, count: { onFloor: { gt: 0 } } },
    orderBy: { tag: "asc" },
    select: { tag: true },
  });
  const [missing, ...tags] = left.map(({ tag }) => tag);
  if (!missing) throw new Error("Something is always left over.");
  const desk = cast.as(cast.the("desk"));
  const lost = { pieces: [{ tag: missing, quantity: 1 }], reason: "Not on its table at the end" };
  must(await declareLost(desk, { saleId, ...lost }));
  while (tags.length > 0) must(await pickUpItems(desk, { saleId, tags: tags.splice(0, 100) }));
}

async function settle(db: Database, cast: Cast, saleId: string): Promise<void> {
  const { fingerprint } = await previewSettlement(db, saleId);
  const treasurer = cast.as(cast.the("treasurer"));
  const settled = must(await finaliseSettlement(treasurer, { saleId, fingerprint }));
  if (settled.state !== "settled") throw new Error("The demo's guild asks for no second person.");
}
