import { startDatabase } from "../database/start.ts";
import { readSettings } from "../settings.ts";

/** Brings the database of the settings up to date; `npm start` does the same before it listens. */
const database = await startDatabase(readSettings());
await database.close();
console.log("The database is up to date.");
