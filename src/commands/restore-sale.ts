import { readFile } from "node:fs/promises";
import { restoreSale } from "../actions/restore/restore-sale.ts";
import { offerSetUp } from "../actions/set-up-guild.ts";
import { startDatabase } from "../database/start.ts";
import { readSettings } from "../settings.ts";

/** Takes the archive of a sale back into the empty database of the settings. */
const [path] = process.argv.slice(2);
if (path === undefined) {
  console.error("Name the archive: npm run restore-sale -- summer-sale-archive.zip");
  process.exit(2);
}
const zip = await readFile(path);
const settings = readSettings();
const database = await startDatabase(settings);
const token = (await offerSetUp(database.db)) ?? "";
const asked = { token, zip, chair: null, requestId: "restore-sale" };
const done = await restoreSale(database.db, asked);
await database.close();

if (done.ok) {
  const { guildName, members, links } = done.value;
  const address = settings.publicUrl ?? `http://${settings.host}:${settings.port}`;
  console.log(`${guildName} is back, with ${members} members. The books are sound.`);
  console.log("Links for the chairs to choose a pass phrase, once npm start runs:");
  for (const { number, name, token } of links)
    console.log(`  ${number} ${name}: ${address}/join/${token}`);
} else {
  console.error(`Nothing was kept. ${done.problem.detail}`);
  process.exitCode = 1;
}
