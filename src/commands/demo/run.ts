import { existsSync } from "node:fs";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Database } from "../../database/client.ts";
import { keepBench } from "./bench.ts";
import { makeDice } from "./dice.ts";
import { foundGuild } from "./guild.ts";
import { lastYearsSale } from "./last-year.ts";
import { writePapers } from "./papers.ts";
import { nextSale } from "./sale.ts";
import type { Story, Tell } from "./story.ts";
import { thisYearsSale } from "./this-year.ts";

/** Runs the main job once, or reads what an earlier run noted. The note is written last. */
export async function runDemo(
  { db, ownerUrl }: { db: Database; ownerUrl: string },
  folder: string,
  tell: Tell,
): Promise<Story> {
  const note = join(folder, "story.json");
  if (existsSync(note)) return JSON.parse(await readFile(note, "utf8")) as Story;
  if (await db.guild.findFirst())
    throw new Error(
      "The demo was interrupted while it was being made. npm run demo -- --fresh starts over.",
    );
  const dice = makeDice(20_261_125);
  tell("The guild is set up and its members are added.");
  const cast = await foundGuild(db, dice);
  const lastSaleId = await lastYearsSale({ db, ownerUrl }, cast, dice, tell);
  const thisSaleId = await thisYearsSale(db, cast, dice, tell);
  await nextSale(db, cast);
  tell("The next sale takes entries already, and a weaver keeps her own notes.");
  await keepBench(db, cast);
  await mkdir(join(folder, "papers"), { recursive: true });
  const papers = await writePapers(db, join(folder, "papers"), { lastSaleId, thisSaleId });
  const story = { lastSaleId, thisSaleId, papers, signIns: cast.signIns, sellers: cast.sellers };
  await writeFile(note, JSON.stringify(story, null, 2), { mode: 0o600 });
  return story;
}
