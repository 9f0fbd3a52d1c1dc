import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildMember } from "../support/build.ts";
import { buildSettling, settleNow } from "../support/build-settlement.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
  const saleId = hall.sale.id;
  const { policy } = await base.db.salePolicy.findFirstOrThrow({ where: { saleId } });
  const stricter = structuredClone(policy) as {
    rates: { committee: number };
    fees: { entry: number };
  };
  stricter.rates.committee = 10_000;
  stricter.fees.entry = 500;
  const decided = { saleId, version: 2, policy: stricter, byId: hall.chair.id };
  await base.db.salePolicy.create({ data: decided });
  await base.db.saleSeller.create({ data: { saleId, memberId: hall.weaver.id, committee: true } });
});
afterAll(() => base.close());

const path = (rest = "") => `/books/${hall.sale.id}/settlement${rest}`;
const memberPath = (id = hall.weaver.id) => path(`/members/${id}`);
/** The words of a page as a person reads them. */
const readable = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");

test("a number or a name leads straight to its member; several names stay a list", async () => {
  for (const q of [String(hall.weaver.number), hall.weaver.name, "weaver 100"]) {
    const found = await treasurer.visit(path(`?q=${encodeURIComponent(q)}`));
    expect([found.status, found.headers.location]).toEqual([303, memberPath()]);
  }
  const both = readable((await treasurer.visit(path("?q=weaver"))).text);
  for (const text of [hall.weaver.name, hall.other.name, "2 of 2 members"])
    expect(both).toContain(text);
  const nobody = await treasurer.visit(path("?q=%00nobody"));
  expect(readable(nobody.text)).toContain("No such member");
});

test("a member's account is told from what sold to what is paid, with every ground", async () => {
  // 10 % of 45.00 and of 39.98, half up: 4.50 and 4.00. The gift of 12.35 is all the guild's.
  const words = readable((await treasurer.visit(memberPath())).text);
  for (const text of [
    "Payment: $71.48 by cheque",
    "Sold, 3 lines $84.98",
    "Guild percentage of these lines -$8.50",
    "Entry fee -$5.00",
    "This settlement $71.48",
    "10 %: on the committee Not used: 20 %: the rate for everyone",
    "100 %: given to the guild",
    "Committee Yes",
    "Scarf 2, $19.99",
  ])
    expect(words).toContain(text);
  const api = await treasurer.get(
    `/api/sales/${hall.sale.id}/settlement/preview/${hall.weaver.id}`,
  );
  expect(api.body).toMatchObject({ net: 7_148, fees: 500, due: 7_148, payWhy: "paid" });
  expect(api.body.lines[0].grounds).toEqual([
    "10 %: on the committee",
    "Not used: 20 %: the rate for everyone",
  ]);
});

test("the account adds up to what the settlement then says", async () => {
  const { settlementId } = await settleNow(base.db, hall);
  const statement = await base.db.statement.findFirstOrThrow({
    where: { settlementId, memberId: hall.weaver.id },
  });
  expect([statement.net, statement.due]).toEqual([7_148n, 7_148n]);
  const after = readable((await treasurer.visit(memberPath())).text);
  expect(after).toContain("Nothing is open for this member");
});

test("members do not get near, and who is nobody is not found", async () => {
  expect((await weaver.visit(memberPath())).status).toBe(403);
  const api = `/api/sales/${hall.sale.id}/settlement/preview/`;
  expect((await weaver.get(`${api}${hall.weaver.id}`)).status).toBe(403);
  for (const id of [v7(), "not-an-id"])
    expect((await treasurer.visit(memberPath(id))).status).toBe(404);
  expect((await treasurer.get(`${api}${v7()}`)).status).toBe(404);
  const idle = await buildMember(base.db);
  expect((await treasurer.visit(memberPath(idle.id))).status).toBe(200);
});
