import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { cashUp } from "../../src/actions/cash-up.ts";
import { lookIntoDrawer } from "../../src/actions/look-into-drawer.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { hindrancesOf } from "../../src/database/hindrances.ts";
import { previewSettlement } from "../../src/database/settlement-preview.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { done } from "../support/build-settlement.ts";
import { type BuiltPiece, buildHall, buildPieces } from "../support/build-till.ts";
import { deviceOf } from "../support/till-device.ts";
import { lineOf, saleFact, untagged } from "../support/till-facts.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildHall>>;
let treasurer: Client;
let weaver: Client;
let piece: BuiltPiece;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 2);
  [piece] = (await buildPieces(base.db, hall.sale, hall.weaver, [
    { price: 4_500 },
    { price: 900, quantity: 2 },
  ])) as [BuiltPiece];
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
  const device = await deviceOf(base, hall, hall.tills[0]!);
  // One sale, the same piece once more, and one without a tag.
  const sales = [[lineOf(piece)], [lineOf(piece)], [untagged(2_000)]];
  const entries = sales.map((lines, index) => ({
    what: "receipt",
    body: saleFact(hall, hall.tills[0]!, index + 1, lines),
  }));
  const sent = await device.post(
    "/api/till/outbox",
    { entries },
    { "sec-fetch-site": "same-origin" },
  );
  expect([sent.status, sent.body.answers?.length]).toEqual([200, 3]);
  await base.db.tillDevice.updateMany({ data: { unsent: 4, lastNumber: 3 } });
  await moveTo(base.db, hall.sale, "settling");
});
afterAll(async () => {
  const books = await checkBooks(base.db);
  expect(books.checks.filter(({ broken }) => broken)).toEqual([]);
  await base.close();
});

const path = (rest = "") => `/books/${hall.sale.id}${rest}`;
/** The words of a page as a person reads them. */
const readable = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const read = async (rest: string) => readable((await treasurer.visit(path(rest))).text);
const kinds = async () =>
  (await hindrancesOf(base.db, hall.sale.id)).map(({ kind, count }) => `${kind} ${count}`);
const settle = async () => {
  const { fingerprint } = await previewSettlement(base.db, hall.sale.id);
  return treasurer.submit(path("/settlement/finalise"), { fingerprint });
};
const count = async (till: number, off: number) => {
  const { id } = hall.tills[till]!;
  const sum = await base.db.posting.aggregate({
    where: { accountKey: `drawer/${id}` },
    _sum: { amount: true },
  });
  const counted = Number(sum._sum.amount) + off;
  const given = { tillId: id, counted, witness: "Somebody else", note: off ? "Torn roll" : "" };
  return done(await cashUp(deedOf(base.db, hall.cashier), given));
};

describe("the desk of a settlement", () => {
  test("says what must and what had better be done, each with its way there", async () => {
    expect(await kinds()).toEqual([
      ...["unsent 4", "open-till 1", "open-till 1", "sold-twice 1", "suspense 1", "on-floor 2"],
    ]);
    const words = await read("/settlement");
    for (const text of [
      "Must be done first: 3",
      "Till 1 (Grey laptop) still keeps 4 entries",
      "Cash up till 2",
      "Better done first: 3",
      "counts as sold twice",
      "2 pieces of 1 member are still on the floor",
      "can be settled when what must be done first is done",
    ])
      expect(words).toContain(text);
    expect(words).not.toContain("Go on to settle");
    const api = await treasurer.get(`/api/sales/${hall.sale.id}/settlement/hindrances`);
    expect(api.body.items[0]).toMatchObject({ kind: "unsent", must: true, count: 4 });
  });

  test("refuses to settle, with the first of them, until all that must be is done", async () => {
    const first = await settle();
    expect(first.status).toBe(409);
    expect(readable(first.text)).toContain("Till 1 (Grey laptop) still keeps 4 entries");
    await base.db.tillDevice.updateMany({ data: { unsent: 0 } });
    expect(readable((await settle()).text)).toContain("Till 1 is open");
    await count(0, -250);
    expect(readable((await settle()).text)).toContain("Till 2 is open");
    await count(1, 0);
    const shift = await base.db.shift.create({
      data: {
        ...{ saleId: hall.sale.id, memberId: hall.weaver.id, byId: hall.chair.id },
        ...{ startsAt: new Date("2026-11-27T15:00:00Z"), minutes: 120 },
      },
    });
    const { policy } = await base.db.salePolicy.findFirstOrThrow({
      where: { saleId: hall.sale.id },
    });
    const stricter = structuredClone(policy) as { fees: { missedShift: number } };
    stricter.fees.missedShift = 1_000;
    await base.db.salePolicy.create({
      data: { saleId: hall.sale.id, version: 2, policy: stricter, byId: hall.chair.id },
    });
    expect(readable((await settle()).text)).toContain("1 shift has no tick yet");
    expect(await base.db.settlement.count()).toBe(0);
    await base.db.shift.update({
      where: { id: shift.id },
      data: {
        ...{ mark: "worked", minutesWorked: 120 },
        ...{ markedAt: new Date(), markedById: hall.chair.id },
      },
    });
    expect(await kinds()).toEqual(["sold-twice 1", "suspense 1", "on-floor 2", "drawer 1"]);
    expect(await read("/settlement")).toContain("Go on to settle");
  });
});

describe("a drawer that did not come out even", () => {
  const look = (reason: string, sessionId = hall.tills[0]!.sessionId, key?: string) =>
    treasurer.submit(path(`/drawers/${sessionId}/looked-into`), { reason }, key);

  test("is told with its note, and a note of what came of it is wanted", async () => {
    expect(await read("/settlement")).toContain("till 1 $2.50 short (with a note)");
    const words = await read(`/drawers/differences?drawer=${hall.tills[0]!.sessionId}`);
    for (const text of ["holds $2.50 less", "Noted at the count: Torn roll", "What came of it"])
      expect(words).toContain(text);
    const empty = await look(" ");
    expect([empty.status, await base.db.lookedInto.count()]).toEqual([400, 0]);
    expect(readable(empty.text)).toContain("Say what came of it");
  });

  test("leaves the list once; eight at once leave one note", async () => {
    const { sessionId } = hall.tills[0]!;
    const given = { saleId: hall.sale.id, sessionId, reason: "Not found" };
    const all = await Promise.all(
      Array.from({ length: 8 }, () => lookIntoDrawer(deedOf(base.db, hall.treasurer), given)),
    );
    expect(all.filter(({ ok }) => ok)).toHaveLength(1);
    expect(all.filter((one) => !one.ok && one.problem.code === "already-done")).toHaveLength(7);
    expect((await look("Again")).status).toBe(409);
    expect(await base.db.lookedInto.findMany()).toMatchObject([{ reason: "Not found" }]);
    expect(await read("/drawers/differences")).toContain("Nothing to look into");
    expect(await read("/drawers/differences?all=yes")).toContain("Not found");
    expect((await kinds()).includes("drawer 1")).toBe(false);
    const api = await treasurer.get(`/api/sales/${hall.sale.id}/drawer-differences?all=yes`);
    expect(api.body.items).toMatchObject([
      { difference: -250, lookedInto: { reason: "Not found", by: hall.treasurer.name } },
    ]);
  });

  test("the same key is one note, and a note cannot be changed or taken away", async () => {
    const { sessionId } = hall.tills[0]!;
    const url = `/api/sales/${hall.sale.id}/cash-ups/${sessionId}/looked-into`;
    expect((await treasurer.post(url, { reason: "Again" })).body.code).toBe("already-done");
    expect((await treasurer.post(url, {})).status).toBe(400);
    await expect(base.db.$executeRaw`UPDATE looked_into SET reason = 'x'`).rejects.toThrow();
    await expect(base.db.$executeRaw`DELETE FROM looked_into`).rejects.toThrow();
    const even = hall.tills[1]!.sessionId;
    expect(readable((await look("Even", even)).text)).toContain("came out even");
    expect((await look("No", v7())).status).toBe(404);
  });
});

test("all is clear when nothing is left, and members do not get near", async () => {
  for (const rest of ["/settlement", "/drawers/differences"])
    expect((await weaver.visit(path(rest))).status).toBe(403);
  const api = `/api/sales/${hall.sale.id}/settlement/hindrances`;
  expect((await weaver.get(api)).status).toBe(403);
  expect((await treasurer.get(`/api/sales/${v7()}/settlement/hindrances`)).status).toBe(404);
  const waiting = await base.db.receiptLine.findMany({ where: { suspended: true } });
  for (const { id } of waiting)
    await treasurer.submit(path(`/suspense/${id}`), {
      owner: "guild",
      reason: "Paid to the guild",
    });
  const left = {
    deed: "lost",
    tags: (await base.db.item.findFirstOrThrow({ where: { count: { onFloor: { gt: 0 } } } })).tag,
  };
  await treasurer.submit(`/desk/${hall.sale.id}/missing`, { ...left, reason: "Gone" });
  expect(await kinds()).toEqual([]);
  expect(await read("/settlement")).toContain("All is clear");
});
