import { checkBooks } from "../database/check-books.ts";
import { startDatabase } from "../database/start.ts";
import { amountText } from "../rules/currency.ts";
import { readSettings } from "../settings.ts";

/** Proves the books of the database in the settings; the exit code says whether they are sound. */
const database = await startDatabase(readSettings());
const result = await checkBooks(database.db);
const guild = await database.db.guild.findFirst();
await database.close();

for (const { invariant, words, checked, broken } of result.checks) {
  console.log(`${broken ? "BROKEN" : "  ok  "}  ${invariant}  ${words} (${checked} looked at)`);
  if (broken) console.log(`           ${broken}`);
}
const { pieces, money } = result.unaccounted;
const amount = guild ? amountText(money, guild.currency) : String(money);
console.log(`\nUnaccounted: ${pieces} pieces, ${amount}${guild ? ` ${guild.currency}` : ""}`);
console.log(result.sound ? "The books are sound." : "The books are NOT sound. Tell the treasurer.");
process.exitCode = result.sound ? 0 : 1;
