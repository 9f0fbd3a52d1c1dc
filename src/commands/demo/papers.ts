import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Database } from "../../database/client.ts";
import { gatherStatements } from "../../database/statements.ts";
import { copiesOf, gatherTags } from "../../database/tags.ts";
import { printFrozen } from "../../printing/statement-words.ts";
import { printTags } from "../../printing/tags.ts";
import { guild } from "./people.ts";

/** Prints the tags of this year's sale and the statements of last year's, as files to look at. */
export async function writePapers(
  db: Database,
  folder: string,
  { lastSaleId, thisSaleId }: { lastSaleId: string; thisSaleId: string },
): Promise<string[]> {
  const { name: saleName } = await db.sale.findUniqueOrThrow({ where: { id: thisSaleId } });
  const tags = copiesOf(await gatherTags(db, { saleId: thisSaleId, each: true }), "bars");
  const options = {
    startAt: 1,
    guildName: guild.name,
    saleName,
    createdAt: new Date(),
    secondStrip: true,
  };
  const small = await printTags(tags, { ...options, stock: "letter-30" });
  const cards = await printTags(tags, { ...options, stock: "letter-10" });
  const settlement = await db.settlement.findFirstOrThrow({ where: { saleId: lastSaleId } });
  const all = await printFrozen(await gatherStatements(db, { settlementId: settlement.id }));
  const files: [string, Uint8Array][] = [
    ["tags-this-year-30-on-a-sheet.pdf", small],
    ["tags-this-year-10-on-a-sheet.pdf", cards],
    ["statements-last-year.pdf", all],
  ];
  for (const [name, bytes] of files) await writeFile(join(folder, name), bytes);
  return files.map(([name]) => join(folder, name));
}
