import { rm } from "node:fs/promises";
import { join } from "node:path";
import closeWithGrace from "close-with-grace";
import { buildApp } from "../app.ts";
import { startDatabase } from "../database/start.ts";
import { makeLogger } from "../log.ts";
import { signingSecret } from "../secret.ts";
import { readSettings } from "../settings.ts";
import { printAccount } from "./demo/account.ts";
import { runDemo } from "./demo/run.ts";
import { printTillTrial } from "./demo/try-till.ts";

/** The invented guild, in a folder of its own beside the real data. */
const real = readSettings();
const folder = join(real.dataDir, "demo");
const settings = { ...real, dataDir: folder, databaseUrl: undefined, logLevel: "warn" as const };

if (process.argv.includes("--fresh")) await forget();
const started = Date.now();
const database = await startDatabase(settings);
const story = await runDemo(database, folder, (line) => console.log(`  ${line}`));
await printAccount(database.db, story);
console.log(`\nReady after ${Math.ceil((Date.now() - started) / 1000)} s.`);

if (process.argv.includes("--no-serve")) await database.close();
else await serve();

async function forget(): Promise<void> {
  const { startCluster } = await import("../database/embedded/cluster.ts");
  // A server that a crash left running would hold on to the files that go now.
  const left = await startCluster(join(folder, "postgres"));
  await left.stop();
  await rm(folder, { recursive: true, force: true });
}

async function serve(): Promise<void> {
  const secret = await signingSecret(settings);
  const app = await buildApp({
    settings,
    db: database.db,
    databaseUrl: database.url,
    secret,
    logger: makeLogger(settings),
  });
  closeWithGrace({ delay: 10_000 }, async () => {
    await app.close();
    await database.close();
  });
  const address = await app.listen({ port: settings.port, host: settings.host });
  console.log(`\nThrumbook is at ${address}. Sign in with a number and its pass phrase:`);
  for (const { role, number, passphrase } of story.signIns)
    console.log(`  ${role.padEnd(10)} ${number}   ${passphrase}`);
  await printTillTrial(database.db, story, address);
  console.log("\nCtrl+C stops it; what you enter is kept. npm run demo -- --fresh starts over.");
}
