import { setTimeout as wait } from "node:timers/promises";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import {
  type BuiltPiece,
  buildHall,
  buildPieces,
  expectBooks,
  receiptFor,
} from "../support/build-till.ts";
import { freePort, type ServerProcess, startServer } from "../support/server-process.ts";

const tillCount = 8;
const rounds = 2;
/** More than a till can sell before the server dies. */
const piecesEach = 200;

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let cashier: Client;
let server: ServerProcess;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, tillCount);
  cashier = await signedIn(base, hall.cashier);
}, 60_000);
afterAll(async () => {
  await server?.kill();
  await base.close();
});

type Receipt = ReturnType<typeof receiptFor>;

/** The status of the answer, or undefined when none came. */
async function send(receipt: Receipt): Promise<number | undefined> {
  try {
    const response = await fetch(`${server.address}/api/sales/${hall.sale.id}/receipts`, {
      method: "POST",
      headers: { authorization: `Bearer ${cashier.token}`, "content-type": "application/json" },
      body: JSON.stringify(receipt),
    });
    await response.arrayBuffer();
    return response.status;
  } catch {
    return undefined;
  }
}

interface Sold {
  acknowledged: Receipt[];
  unanswered: Receipt[];
}

/** One till sells until an answer fails to come, as it does when the server dies. */
async function sellUntilSilence(till: { id: string }, pieces: BuiltPiece[]): Promise<Sold> {
  const acknowledged: Receipt[] = [];
  for (const piece of pieces) {
    const receipt = receiptFor(till, [piece]);
    const status = await send(receipt);
    if (status === undefined) return { acknowledged, unanswered: [receipt] };
    expect(status).toBe(201);
    acknowledged.push(receipt);
  }
  return { acknowledged, unanswered: [] };
}

test("a killed server loses no acknowledged receipt, and a resent one lands once", async () => {
  const port = await freePort();
  const owners = [hall.weaver, hall.cashier, hall.chair, hall.treasurer];
  const stock = await Promise.all(
    owners.map((owner) =>
      buildPieces(base.db, hall.sale, owner, Array(999).fill({ price: 1_234 })),
    ),
  );
  const pieces = stock.flat();
  const acknowledged: Receipt[] = [];
  let resent = 0;
  server = await startServer(base.url, port);
  for (let round = 0; round < rounds; round += 1) {
    const selling = hall.tills.map((till) => sellUntilSilence(till, pieces.splice(0, piecesEach)));
    await wait(400 + 300 * round);
    await server.kill();
    const sold = await Promise.all(selling);
    server = await startServer(base.url, port);
    for (const receipt of sold.flatMap(({ unanswered }) => unanswered)) {
      expect([200, 201]).toContain(await send(receipt));
      acknowledged.push(receipt);
      resent += 1;
    }
    acknowledged.push(...sold.flatMap((one) => one.acknowledged));
  }
  expect(resent).toBeGreaterThan(0);
  const stored = await base.db.receipt.findMany({ select: { id: true, total: true } });
  const ids = acknowledged.map(({ id }) => id).sort();
  expect(stored.map(({ id }) => id).sort()).toEqual(ids);
  const taken = await base.db.posting.aggregate({
    where: { accountKey: { startsWith: "drawer/" }, entry: { kind: "receipt" } },
    _sum: { amount: true },
  });
  expect(Number(taken._sum.amount)).toBe(acknowledged.reduce((sum, { total }) => sum + total, 0));
  expect(await expectBooks(base.db)).toEqual({ ledger: 0, pieces: 0 });
}, 240_000);
