import closeWithGrace from "close-with-grace";
import { offerSetUp } from "./actions/set-up-guild.ts";
import { buildApp } from "./app.ts";
import { startDatabase } from "./database/start.ts";
import { makeLogger } from "./log.ts";
import { signingSecret } from "./secret.ts";
import { readSettings } from "./settings.ts";

const settings = readSettings();
const logger = makeLogger(settings);
const database = await startDatabase(settings);
const app = await buildApp({
  settings,
  db: database.db,
  databaseUrl: database.url,
  secret: await signingSecret(settings),
  logger,
});

closeWithGrace({ delay: 10_000, logger }, async () => {
  await app.close();
  await database.close();
});

const address =
  settings.publicUrl ?? (await app.listen({ port: settings.port, host: settings.host }));
if (settings.publicUrl) await app.listen({ port: settings.port, host: settings.host });
console.log(`Thrumbook is at ${address}`);

const token = await offerSetUp(database.db);
if (token)
  console.log(`Nobody is here yet. Set up the guild, once, at\n  ${address}/set-up/${token}`);
