import { performance } from "node:perf_hooks";
import { v7 } from "uuid";
import { finaliseSettlement } from "../../actions/finalise-settlement.ts";
import { openDatabase } from "../../database/client.ts";
import { previewSettlement } from "../../database/settlement-preview.ts";
import type { Role } from "../../rules/roles.ts";

/** Settles the only sale of a database, in a process of its own, and tells what that took. */
const db = openDatabase(process.argv[2]!);
const sale = await db.sale.findFirstOrThrow();
const who = await db.member.findFirstOrThrow();
const actor = { id: who.id, number: who.number, name: who.name, roles: who.roles as Role[] };

const start = performance.now();
const { fingerprint, lines } = await previewSettlement(db, sale.id);
const shown = performance.now();
const deed = { db, actor, requestId: "bench", key: v7() };
const result = await finaliseSettlement(deed, { saleId: sale.id, fingerprint });
if (!result.ok) throw new Error(result.problem.detail);
const end = performance.now();
await db.$disconnect();

const megabytes = process.resourceUsage().maxRSS / 1_024;
console.log(JSON.stringify({ lines, preview: shown - start, finalise: end - shown, megabytes }));
