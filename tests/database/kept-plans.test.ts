import { expect, test } from "vitest";
import { recordFact } from "../../src/actions/record-fact.ts";
import { openDatabase } from "../../src/database/client.ts";
import { buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase } from "../support/database.ts";
import { lineOf, saleFact } from "../support/till-facts.ts";

test("a till's receipts are read and written with plans made once, not anew for each", async () => {
  const base = await freshDatabase();
  // One connection, since each keeps plans of its own.
  const db = openDatabase(base.url, 1);
  const hall = await buildHall(base.db, 1);
  const till = hall.tills[0]!;
  const enrolledById = hall.chair.id;
  await base.db.tillDevice.create({
    data: { tillId: till.id, name: "Grey laptop", tokenHash: "0", enrolledById },
  });
  const wanted = Array.from({ length: 12 }, () => ({ price: 1_000 }));
  const pieces = await buildPieces(base.db, hall.sale, hall.weaver, wanted);
  const from = { db, tillId: till.id, saleId: hall.sale.id, requestId: "test" };
  for (const [index, piece] of pieces.entries()) {
    const done = await recordFact(from, saleFact(hall, till, index + 1, [lineOf(piece)]));
    expect(done).toMatchObject({ ok: true, value: { recorded: "now", notes: [] } });
  }
  const plans = await db.$queryRaw<{ name: string; anew: number }[]>`
    SELECT name, custom_plans::integer AS anew FROM pg_prepared_statements ORDER BY name`;
  expect(plans.map(({ name }) => name)).toEqual(["fact-scene", "lines-to-clear", "record-receipt"]);
  // PostgreSQL makes five before it tries one plan for all, and stays with that if it costs no more.
  expect(plans.filter(({ anew }) => anew > 6)).toEqual([]);
  await db.$disconnect();
  await base.drop();
});
