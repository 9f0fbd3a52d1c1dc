import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildMember } from "../support/build.ts";
import { buildSettling, closeTill } from "../support/build-settlement.ts";
import { balancesByHledger, needed, onJournal } from "../support/journal-tools.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let treasurer: Client;
let weaver: Client;
let other: Client;
let settlementId: string;
beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
  other = await signedIn(base, hall.other);
});
afterAll(() => base.close());

const sale = (rest: string) => `/api/sales/${hall.sale.id}/${rest}`;
const statementOf = async (memberId: string) =>
  (await base.db.statement.findFirstOrThrow({ where: { memberId } })).id;

describe("before anything is settled", () => {
  test("the preview shows each member's lines, and pages by member number", async () => {
    const first = await treasurer.get(sale("settlement/preview?limit=1"));
    expect(first.status).toBe(200);
    expect(first.body).toMatchObject({ lines: 4, gross: 11_831, guildShare: 2_367, net: 9_464 });
    expect(first.body.items).toHaveLength(1);
    expect(first.body.items[0].lines).toHaveLength(3);
    const second = await treasurer.get(sale(`settlement/preview?limit=1&after=${first.body.next}`));
    expect(second.body.items[0].memberNumber).toBe(hall.other.number);
    expect([second.body.next, second.body.fingerprint]).toEqual([null, first.body.fingerprint]);
  });

  test.each([
    ["no fingerprint", {}, 400],
    ["a fingerprint of another shape", { fingerprint: "abc" }, 400],
    ["a fingerprint that is a number", { fingerprint: 5 }, 400],
    ["one field too many", { fingerprint: "0".repeat(64), net: 1 }, 400],
    ["the fingerprint of something else", { fingerprint: "0".repeat(64) }, 409],
  ])("%s is refused", async (_name, body, status) => {
    const answer = await treasurer.post(sale("settlements"), body);
    expect(answer.status).toBe(status);
    expect(answer.headers["content-type"]).toContain("application/problem+json");
    if (status === 400) expect(answer.body.errors.length).toBeGreaterThan(0);
    expect(await base.db.settlement.count()).toBe(0);
  });

  test("unknown sales are not found, and a sale that is no id is refused", async () => {
    for (const rest of ["settlement/preview", "takings", "journal"])
      expect((await treasurer.get(`/api/sales/${v7()}/${rest}`)).status).toBe(404);
    const answer = await treasurer.post(`/api/sales/${v7()}/settlements`, {
      fingerprint: "0".repeat(64),
    });
    expect(answer.status).toBe(404);
    expect((await treasurer.get("/api/sales/x/takings")).status).toBe(400);
  });

  test("a write needs a key", async () => {
    const { body } = await treasurer.get(sale("settlement/preview"));
    const answer = await treasurer
      .post(sale("settlements"), { fingerprint: body.fingerprint })
      .unset("idempotency-key");
    expect(answer.status).toBe(400);
  });
});

describe("settling", () => {
  test("the same post twice is one settlement", async () => {
    await closeTill(base.db, hall);
    const { body } = await treasurer.get(sale("settlement/preview"));
    const key = v7();
    const send = () => treasurer.post(sale("settlements"), { fingerprint: body.fingerprint }, key);
    const [first, second] = [await send(), await send()];
    expect([first.status, second.status]).toEqual([201, 201]);
    expect(second.body).toEqual(first.body);
    settlementId = first.body.settlementId;
    const third = await treasurer.post(sale("settlements"), { fingerprint: body.fingerprint });
    expect([third.status, third.body.code]).toEqual([409, "already-done"]);
  });

  test("the settlement lists its statements, searched and by state", async () => {
    const all = await treasurer.get(`/api/settlements/${settlementId}`);
    expect(all.body.items.map((row: { number: number }) => row.number)).toEqual([1, 2]);
    const one = await treasurer.get(`/api/settlements/${settlementId}?q=${hall.other.number}`);
    expect(one.body.items).toMatchObject([{ memberName: hall.other.name, paid: false }]);
    const paid = await treasurer.get(`/api/settlements/${settlementId}?paid=paid`);
    expect(paid.body.items).toEqual([]);
    const odd = await treasurer.get(`/api/settlements/${settlementId}?q=%00%25'`);
    expect([odd.status, odd.body.items]).toEqual([200, []]);
    expect((await treasurer.get(`/api/settlements/${v7()}`)).status).toBe(404);
  });
});

describe("a statement", () => {
  test("is the member's own, and for everybody else not there", async () => {
    const id = await statementOf(hall.weaver.id);
    const mine = await weaver.get(`/api/statements/${id}`);
    expect(mine.body).toMatchObject({ net: 6_798, memberNumber: hall.weaver.number });
    const theirs = await other.get(`/api/statements/${id}`);
    const unknown = await other.get(`/api/statements/${v7()}`);
    expect([theirs.status, unknown.status]).toEqual([404, 404]);
    expect(theirs.body.detail).toBe(unknown.body.detail);
    expect((await other.get(`/api/statements/${id}/pdf`)).status).toBe(404);
    expect((await treasurer.get(`/api/statements/${id}`)).status).toBe(200);
  });

  test("on paper holds every figure, and a reprint is the same to the byte", async () => {
    const id = await statementOf(hall.weaver.id);
    const path = `/api/statements/${id}/pdf`;
    const first = await weaver.get(path).buffer(true);
    await base.db.guild.update({ where: { id: 1 }, data: { name: "Renamed guild" } });
    const again = await treasurer.get(path).buffer(true);
    expect(first.headers["content-type"]).toBe("application/pdf");
    expect(Buffer.compare(first.body, again.body)).toBe(0);
    const pages = await pagesOf(first.body);
    const words = await wordsOf(pages[0]!);
    for (const figure of ["$84.98", "$17.00", "$67.98", "$45.00", "$36.00", "$39.98", "$31.98"])
      expect(words).toContain(figure);
    for (const text of ["Alder Creek Weavers", "Autumn sale", "No. 1", "$12.35", "20 %", "$19.99"])
      expect(words).toContain(text);
  });

  test("all of a settlement are one file by member number", async () => {
    const file = await treasurer
      .get(`/api/settlements/${settlementId}/statements.pdf`)
      .buffer(true);
    const words = await Promise.all((await pagesOf(file.body)).map(wordsOf));
    expect(words).toHaveLength(2);
    expect(words[0]).toContain(`Member ${hall.weaver.number}`);
    expect(words[1]).toContain(`Member ${hall.other.number}`);
    expect((await weaver.get(`/api/settlements/${settlementId}/statements.pdf`)).status).toBe(403);
  });
});

describe("paying", () => {
  test.each([
    ["an unknown way", { method: "card", reference: "1", paidOn: "2026-12-05" }, "method"],
    ["no day", { method: "cash" }, "paidOn"],
    ["a day that never was", { method: "cash", paidOn: "2026-02-30" }, "paidOn"],
    [
      "a reference too long",
      { method: "cheque", reference: "x".repeat(61), paidOn: "2026-12-05" },
      "reference",
    ],
    [
      "a reference with a control sign",
      { method: "cheque", reference: "1\u0000", paidOn: "2026-12-05" },
      "reference",
    ],
    [
      "a cheque without its number",
      { method: "cheque", reference: " ", paidOn: "2026-12-05" },
      "reference",
    ],
    ["an amount of one's own", { method: "cash", paidOn: "2026-12-05", amount: 1 }, ""],
  ])("%s is refused by its field", async (_name, body, field) => {
    const answer = await treasurer.post(
      `/api/statements/${await statementOf(hall.other.id)}/payouts`,
      body,
    );
    expect(answer.status).toBe(400);
    expect(answer.body.errors[0].field).toBe(field);
    expect(await base.db.payout.count()).toBe(0);
  });

  test("pay, void with a reason, pay again", async () => {
    const id = await statementOf(hall.weaver.id);
    const pay = (reference: string) =>
      treasurer.post(`/api/statements/${id}/payouts`, {
        method: "cheque",
        reference,
        paidOn: "2026-12-05",
      });
    const first = await pay("1001");
    expect([first.status, first.body.amount]).toEqual([201, 6_798]);
    expect((await pay("1002")).body.code).toBe("already-done");
    const takeBack = (body: object) =>
      treasurer.post(`/api/payouts/${first.body.payoutId}/void`, body);
    expect((await takeBack({ reason: " " })).status).toBe(400);
    expect((await takeBack({ reason: "Lost in the post" })).status).toBe(201);
    expect((await takeBack({ reason: "Again" })).body.code).toBe("already-done");
    expect((await pay("1002")).body).toMatchObject({ attempt: 2 });
    const { body } = await weaver.get(`/api/statements/${id}`);
    expect(body.payouts).toMatchObject([
      { reference: "1001", voidedBecause: "Lost in the post" },
      { reference: "1002", voidedBecause: null },
    ]);
  });

  test("members and cashiers cannot pay or void", async () => {
    const id = await statementOf(hall.other.id);
    const cashier = await signedIn(base, await buildMember(base.db, ["cashier", "desk"]));
    const body = { method: "cash", paidOn: "2026-12-05" };
    for (const client of [other, cashier])
      expect((await client.post(`/api/statements/${id}/payouts`, body)).status).toBe(403);
  });
});

describe("the books", () => {
  test("takings leave no piece and no coin unaccounted", async () => {
    const { body } = await treasurer.get(sale("takings"));
    expect(body).toMatchObject({
      pieces: { entered: 7, onFloor: 2, withBuyer: 5, unaccounted: 0 },
      receipts: 3,
      gross: 11_831,
      donated: 1_235,
      guildShare: 2_367,
      paidOut: 6_798,
      owed: 2_666,
      notSettled: 0,
      unaccounted: 0,
    });
    expect(body.taken).toBe(body.gross + body.donated + body.tax);
    expect(body.tenders).toMatchObject([{ tillNumber: 1, kind: "cash", amount: body.taken }]);
  });

  test("accounts sum to zero and the journal pages without a gap", async () => {
    const { body } = await treasurer.get("/api/accounts");
    const balances = body.items.map((row: { balance: number }) => row.balance);
    expect(balances.reduce((sum: number, one: number) => sum + one, 0)).toBe(0);
    const numbers: number[] = [];
    for (let after = ""; ; ) {
      const page = await treasurer.get(`/api/journal-entries?limit=2${after}`);
      numbers.push(...page.body.items.map((row: { number: number }) => row.number));
      if (page.body.next === null) break;
      after = `&after=${page.body.next}`;
    }
    expect(numbers).toEqual([...new Set(numbers)].sort((one, two) => two - one));
    expect(numbers).toHaveLength(await base.db.journalEntry.count());
    const payouts = await treasurer.get("/api/journal-entries?q=payout&account=bank");
    expect(payouts.body.items).toHaveLength(3);
    expect((await treasurer.get("/api/journal-entries?q=%00")).status).toBe(200);
  });

  test("check-books finds them sound", async () => {
    const { body } = await treasurer.get("/api/check-books");
    expect(body).toMatchObject({ sound: true, unaccounted: { pieces: 0, money: 0 } });
    expect((await other.get("/api/check-books")).status).toBe(403);
  });

  // hledger and ledger, from Debian, work out the balances on their own.
  test.runIf(needed("hledger") && needed("ledger"))(
    "other programs agree to the coin",
    async () => {
      const { text } = await treasurer.get(sale("journal"));
      for (const [program, args] of [
        ["hledger", ["check", "-s", "ordereddates"]],
        ["ledger", ["--strict", "--pedantic", "bal", "-n"]],
      ] as const) {
        const { status, stderr } = onJournal(text, program, [...args]);
        expect([status, stderr]).toEqual([0, ""]);
      }
      const theirs = balancesByHledger(text);
      expect(theirs).toMatchObject({
        [`liabilities:members:${hall.other.number}`]: "USD -26.66",
        "income:guild share": "USD -23.67",
        "income:donations": "USD -12.35",
        "assets:bank": "USD -67.98",
      });
      expect(theirs).not.toHaveProperty(`liabilities:members:${hall.weaver.number}`);
    },
  );
});

test("a member's own results hold nobody else's", async () => {
  const { body } = await weaver.get("/api/me/results");
  expect(body.owed).toBe(0);
  expect(body.sales).toMatchObject([{ entered: 5, sold: 4, gross: 8_498, net: 6_798 }]);
  expect(body.sales[0].statements).toMatchObject([{ number: 1, paid: true }]);
  expect((await other.get("/api/me/results")).body.owed).toBe(2_666);
  const sold = await weaver.get(`/api/me/results/${hall.sale.id}/sold?limit=2`);
  const rest = await weaver.get(
    `/api/me/results/${hall.sale.id}/sold?limit=2&after=${sold.body.next}`,
  );
  const amounts = [...sold.body.items, ...rest.body.items].map((row) => row.amount);
  expect(amounts).toEqual([1_235, 3_998, 4_500]);
});
