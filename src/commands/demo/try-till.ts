import type { Database } from "../../database/client.ts";
import { formatMoney } from "../../rules/currency.ts";
import { showTag } from "../../rules/tag-number.ts";
import { guild } from "./people.ts";
import type { Story } from "./story.ts";

/** The first till is open with its float and has no device yet. */
const tillNumber = 1;

/** The way to a first sale at a till, in the order of its steps, with pieces that are there now. */
export async function printTillTrial(db: Database, story: Story, address: string): Promise<void> {
  const till = await db.till.findFirstOrThrow({
    where: { saleId: story.thisSaleId, number: tillNumber },
    include: { device: true },
  });
  console.log(`\nSell something at till ${tillNumber}, ${till.name}:`);
  if (till.device) console.log(`  1. It lives on the device "${till.device.name}" already.`);
  else {
    console.log(`  1. Sign in as the chair, then open ${address}/sales/${story.thisSaleId}/tills`);
    console.log(
      `     Press "Make a code" under till ${tillNumber}. It works once, for fifteen minutes.`,
    );
  }
  console.log(
    `  2. Open ${address}/till/ ${till.device ? "there" : "and type the code, with any name for the device"}.`,
  );
  console.log("  3. Choose who sells, and type the PIN:");
  for (const { name, pin } of story.sellers) console.log(`       ${name.padEnd(16)} ${pin}`);
  console.log(
    "  4. Type the tag of a piece and Enter. Then Enter, C for cash, what the buyer gives, Enter, Enter:",
  );
  for (const words of await piecesToTry(db, story.thisSaleId)) console.log(`       ${words}`);
  console.log(`  Only practise, with made-up pieces and no code: ${address}/till/?practice`);
}

/** Two pieces that can be sold, and one that another buyer has already. */
async function piecesToTry(db: Database, saleId: string): Promise<string[]> {
  const some = (count: object, take: number) =>
    db.item.findMany({ where: { saleId, quantity: 1, count }, orderBy: { tag: "asc" }, take });
  const here = await some({ onFloor: 1 }, 2);
  const gone = await some({ withBuyer: 1 }, 1);
  const words = (end: (price: string) => string) => (item: (typeof here)[number]) =>
    `${showTag(item.tag)}   ${end(formatMoney(Number(item.price), guild.currency, guild.locale))}`;
  return [
    ...here.map(words((price) => price)),
    ...gone.map(words(() => "sold already: the till says when and where")),
  ];
}
