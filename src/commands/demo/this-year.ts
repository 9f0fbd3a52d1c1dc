import type { Database } from "../../database/client.ts";
import type { Dice } from "./dice.ts";
import { checkIn, enterGoods } from "./goods-in.ts";
import type { Cast } from "./guild.ts";
import { moveTo, planSale } from "./sale.ts";
import { sell } from "./selling.ts";
import type { Tell } from "./story.ts";
import { decideTerms, planWork, tickWork } from "./terms.ts";

/** A sale in full swing: goods on the floor, two tills open, a part sold. */
export async function thisYearsSale(
  db: Database,
  cast: Cast,
  dice: Dice,
  tell: Tell,
): Promise<string> {
  const { saleId, tills } = await planSale(cast, {
    name: `Autumn sale ${new Date().getUTCFullYear()}`,
    tills: 3,
    startsIn: 0,
    markdown: true,
  });
  await decideTerms(cast, saleId);
  await moveTo(db, cast, saleId, "entries-open");
  await planWork(cast, dice, saleId, new Date().toISOString().slice(0, 10));
  const entered = await enterGoods(cast, dice, saleId, 350);
  await moveTo(db, cast, saleId, "entries-closed", "selling");
  const onFloor = await checkIn(cast, dice, saleId, entered);
  const receipts = await sell(db, cast, dice, {
    saleId,
    tills: tills.slice(0, 2),
    onFloor,
    sold: 22,
  });
  await tickWork(db, cast, dice, { saleId, open: 12 });
  tell(
    `This year: ${[...entered.values()].flat().length} items entered, ${receipts.length} customers so far, two tills open.`,
  );
  return saleId;
}
