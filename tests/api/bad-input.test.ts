import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSettling } from "../support/build-settlement.ts";

/** Values that once made a fault of ours out of a mistake of theirs; each is refused in words. */
let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let chair: Client;

beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  chair = await signedIn(base, hall.chair);
});
afterAll(() => base.close());

test("a version beyond the database's numbers is refused", async () => {
  const body = { version: 4_294_967_296, name: "Fine Weaver" };
  const answer = await chair.patch(`/api/members/${hall.weaver.id}`, body);
  expect(answer.status).toBe(400);
  expect(answer.body.errors).toMatchObject([{ field: "version" }]);
});

test.each([
  ["half a surrogate pair", "x\ud800y"],
  ["a NUL", "x\u0000y"],
])("%s in a text is refused with its field named", async (_what, text) => {
  const kind = await chair.post("/api/kinds", { name: text });
  const guild = await chair.patch("/api/guild", { name: text, version: 1 });
  const path = `/api/receipts/${hall.receipts.first}/void`;
  const reason = await chair.post(path, { reason: text });
  const met = [kind, guild, reason].map(({ status, body }) => [status, body.errors[0]?.field]);
  expect(met).toEqual([
    [400, "name"],
    [400, "name"],
    [400, "reason"],
  ]);
});

const sale = {
  name: "Some sale",
  firstDay: "2026-11-27",
  lastDay: "2026-11-29",
  entryDeadline: "2026-11-20T12:00:00Z",
  guildRate: 20_000,
  agreement: "All is my own work.",
};

test.each([
  ["firstDay", "0000-01-01"],
  ["entryDeadline", "0000-01-01T00:00:00Z"],
  // Its instant lies in the year 10000, which JavaScript cannot read back from the database.
  ["entryDeadline", "9999-12-31T23:59:59-23:59"],
])(
  "a sale with a %s of %s is refused, and the list of sales goes on showing",
  async (field, at) => {
    const answer = await chair.post("/api/sales", { ...sale, lastDay: "9999-12-31", [field]: at });
    expect(answer.status).toBe(400);
    expect(answer.body.errors).toContainEqual(expect.objectContaining({ field }));
    expect((await chair.visit("/sales")).status).toBe(200);
  },
);

test("a cursor that only looks like one begins the list of receipts anew", async () => {
  const cursor = `2026-11-27T10:00:00.000Z_${"-".repeat(36)}`;
  const answer = await chair.get(`/api/sales/${hall.sale.id}/receipts?after=${cursor}`);
  expect(answer.status).toBe(200);
  expect(answer.body.items).toHaveLength(3);
});

test("tags of a member beyond all numbers are refused", async () => {
  const answer = await chair.get(`/api/sales/${hall.sale.id}/tags.pdf?member=4294967296`);
  expect(answer.status).toBe(400);
  expect(answer.body.errors).toMatchObject([{ field: "member" }]);
});

test.each(["/api/items/%ff", `/api/items/${"a".repeat(300)}`, "/api/sales/%C3%28"])(
  "the unreadable address %s is answered with a problem document",
  async (url) => {
    const { statusCode, headers, body } = await base.app.inject({ url });
    expect(statusCode).toBe(404);
    expect(headers["content-type"]).toContain("application/problem+json");
    expect(JSON.parse(body)).toMatchObject({ code: "not-found", status: 404 });
    const page = await base.app.inject({ url: url.replace("/api", "") });
    expect([page.statusCode, page.headers["content-type"]]).toEqual([
      404,
      "text/plain; charset=utf-8",
    ]);
  },
);
