import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildMember } from "../support/build.ts";
import { buildHall, buildPieces, expectBooks, receiptFor } from "../support/build-till.ts";

let service: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let clients: Client[];
let address: string;
beforeAll(async () => {
  service = await startApp();
  hall = await buildHall(service.db, 8);
  const cashiers = await Promise.all(
    [0, 1].map(async (index) => {
      const more = { number: 900 + index, email: `till${index}@example.org`, name: "Rose Cashier" };
      return buildMember(service.db, ["cashier"], more);
    }),
  );
  clients = await Promise.all(cashiers.map((cashier) => signedIn(service, cashier)));
  const { port } = service.app.server.address() as { port: number };
  address = `http://127.0.0.1:${port}/api/sales/${hall.sale.id}/receipts`;
});
afterAll(() => service.close());

interface Answer {
  code: string;
  detail: string;
  name: string;
}

async function post(client: Client, receipt: object) {
  const response = await fetch(address, {
    method: "POST",
    headers: { authorization: `Bearer ${client.token}`, "content-type": "application/json" },
    body: JSON.stringify(receipt),
  });
  return { status: response.status, body: (await response.json()) as Answer };
}

test("two tills, one piece, 500 rounds: one sells it, the other hears where and when", async () => {
  const pieces = await buildPieces(
    service.db,
    hall.sale,
    hall.weaver,
    Array.from({ length: 500 }, () => ({ price: 1_500 })),
  );
  for (const piece of pieces) {
    // Both requests are built before either is sent, so that they leave at the same instant.
    const bodies = [0, 1].map((index) => receiptFor(hall.tills[index]!, [piece]));
    const answers = await Promise.all(bodies.map((body, index) => post(clients[index]!, body)));
    const winner = answers.findIndex(({ status }) => status === 201);
    const loser = answers[1 - winner]!;
    expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
    expect(loser.body.code).toBe("already-sold");
    expect(loser.body.detail).toContain(
      `sold at till ${winner + 1}, receipt ${answers[winner]!.body.name}`,
    );
    expect(loser.body.detail).toMatch(/\d{1,2}:\d\d.*, by Rose Cashier/);
  }
  expect(await expectBooks(service.db)).toEqual({ ledger: 0, pieces: 0 });
}, 120_000);

test("50 equal posts at once are one receipt; one answers 201, the others 200", async () => {
  const [piece] = await buildPieces(service.db, hall.sale, hall.chair, [{ price: 2_500 }]);
  const body = receiptFor(hall.tills[3]!, [piece!]);
  const entries = await service.db.journalEntry.count();
  const answers = await Promise.all(
    Array.from({ length: 50 }, (_, index) => post(clients[index % 2]!, body)),
  );
  expect(answers.filter(({ status }) => status === 201)).toHaveLength(1);
  expect(answers.filter(({ status }) => status === 200)).toHaveLength(49);
  expect(new Set(answers.map((answer) => answer.body.name)).size).toBe(1);
  expect(await service.db.journalEntry.count()).toBe(entries + 1);
});

test("eight clients at eight tills leave number series without gaps", async () => {
  const pieces = await buildPieces(
    service.db,
    hall.sale,
    hall.treasurer,
    Array.from({ length: 80 }, () => ({ price: 800 })),
  );
  const work = pieces.map((piece, index) => receiptFor(hall.tills[index % 8]!, [piece]));
  await Promise.all(
    Array.from({ length: 8 }, async (_, client) => {
      for (const body of work.filter((_, index) => (index + client) % 4 === 0))
        await post(clients[client % 2]!, body);
    }),
  );
  for (const till of hall.tills) {
    const rows = await service.db.receipt.findMany({
      where: { tillId: till.id },
      orderBy: { number: "asc" },
      select: { number: true },
    });
    expect(rows.map(({ number }) => number)).toEqual(rows.map((_, index) => index + 1));
  }
  expect(await expectBooks(service.db)).toEqual({ ledger: 0, pieces: 0 });
});
