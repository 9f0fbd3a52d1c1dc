import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { editMemberBank } from "../../src/actions/edit-member-bank.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildGuild, buildMember, deedOf } from "../support/build.ts";
import { ibans } from "../support/build-paying.ts";
import { errorLinks } from "../support/html.ts";

let base: TestApp;
let weaver: Client;
let other: Client;
let treasurer: Client;
let id: string;
let person: Awaited<ReturnType<typeof buildMember>>;
beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  person = await buildMember(base.db);
  id = person.id;
  weaver = await signedIn(base, person);
  other = await signedIn(base, await buildMember(base.db, ["member", "cashier", "desk"]));
  treasurer = await signedIn(base, await buildMember(base.db, ["treasurer"]));
});
afterAll(() => base.close());

const blank = { payee: "", account: "", bank: "", payMethod: "none" };
const typed = {
  payee: "Ada Weaver",
  account: "de89 3704 0044 0532 0130 00",
  bank: "deutdeff",
  payMethod: "transfer",
};

describe("a member's account", () => {
  test.each([
    [{ account: "DE89370400440532013001" }, "account"],
    [{ account: ibans.german, bank: "123" }, "bank"],
    [{ payMethod: "transfer" }, "account"],
    [{ payMethod: "gold" }, "payMethod"],
    [{ payee: "x".repeat(71) }, "payee"],
    [{ account: "1\u0000" }, "account"],
  ])("%j is refused by its field and keeps what was typed", async (more, field) => {
    const answer = await weaver.submit("/account/payment", {
      version: "0",
      ...blank,
      bank: "ABC",
      ...more,
    });
    expect([answer.status, errorLinks(answer.text)]).toEqual([400, [field]]);
    expect(await base.db.memberBank.count()).toBe(0);
  });

  test("is typed on the member's own page, which shows its end alone", async () => {
    const { text: form } = await weaver.visit("/account/payment");
    expect(form).toContain('name="version" value="0"');
    const done = await weaver.submit("/account/payment", { version: "0", ...typed });
    expect([done.status, done.headers.location]).toEqual([303, "/account#payment"]);
    const { text } = await weaver.visit("/account");
    expect(text).toContain("ends in 3000");
    expect(text).not.toContain(ibans.german);
    const row = await base.db.memberBank.findUniqueOrThrow({ where: { memberId: id } });
    expect(row).toMatchObject({
      account: ibans.german,
      bank: "DEUTDEFF",
      payMethod: "transfer",
      version: 1,
    });
  });

  test("is not changed over somebody's newer words, nor made twice at once", async () => {
    const late = await weaver.submit("/account/payment", { version: "0", ...typed });
    expect(late.status).toBe(409);
    const upper = { ...typed, bank: "DEUTDEFF" };
    const change = { ...upper, version: 1, payMethod: "cash" as const };
    const all = await Promise.all(
      Array.from({ length: 5 }, () => editMemberBank(deedOf(base.db, person), id, change)),
    );
    expect(all.filter(({ ok }) => ok)).toHaveLength(1);
    const key = v7();
    const again = { ...upper, version: 2, payMethod: "cheque" as const };
    const first = await editMemberBank(deedOf(base.db, person, key), id, again);
    expect(await editMemberBank(deedOf(base.db, person, key), id, again)).toEqual(first);
  });

  test("is typed by the treasurer too, and read by nobody else", async () => {
    const path = `/members/${id}/payment`;
    expect((await treasurer.visit(path)).text).toContain(ibans.german);
    const fields = { version: "3", ...typed, payee: "A. Weaver" };
    expect((await treasurer.submit(path, fields)).status).toBe(303);
    expect((await other.visit(path)).status).toBe(403);
    expect((await other.submit(path, fields)).status).toBe(403);
    expect((await other.get(`/api/members/${id}/bank`)).status).toBe(404);
    expect((await other.put(`/api/members/${id}/bank`, { ...typed, version: 4 })).status).toBe(404);
    expect((await treasurer.visit(`/members/${v7()}/payment`)).status).toBe(404);
  });

  test("never stands in the audit list", async () => {
    const rows = await base.db.audit.findMany({ where: { deed: "edit-member-bank" } });
    expect(rows.length).toBeGreaterThan(2);
    expect(JSON.stringify(rows.map(({ detail }) => detail))).not.toMatch(/3704|DE89|3000/);
  });
});

describe("the API", () => {
  test("reads and writes the member's own", async () => {
    const read = await weaver.get(`/api/members/${id}/bank`);
    expect(read.body).toMatchObject({
      memberId: id,
      version: 4,
      payee: "A. Weaver",
      account: ibans.german,
    });
    const change = { version: 4, payee: "", account: "12-34", bank: "", payMethod: null };
    const key = v7();
    const done = await weaver.put(`/api/members/${id}/bank`, change, key);
    expect([done.status, done.body.version]).toEqual([200, 5]);
    expect((await weaver.put(`/api/members/${id}/bank`, change, key)).body).toEqual(done.body);
    const wrong = await weaver.put(`/api/members/${id}/bank`, {
      ...change,
      version: 5,
      account: "DE12345678901234",
    });
    expect([wrong.status, wrong.body.errors[0].field]).toEqual([400, "account"]);
    expect((await weaver.get(`/api/members/${v7()}/bank`)).status).toBe(404);
  });

  test("keeps the guild's own account to the treasurer and the chair", async () => {
    expect((await weaver.get("/api/paying-settings")).status).toBe(403);
    const { body } = await treasurer.get("/api/paying-settings");
    expect(body).toEqual({
      version: 1,
      name: "",
      account: "",
      bank: "",
      remindFirst: 30,
      remindAgain: 60,
    });
    const change = { ...body, account: ibans.french, remindFirst: 14 };
    const done = await treasurer.put("/api/paying-settings", change);
    expect(done.body).toEqual({ ...change, version: 2 });
    expect((await treasurer.put("/api/paying-settings", change)).status).toBe(409);
  });
});
