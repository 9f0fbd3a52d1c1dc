import { parse } from "csv-parse/sync";
import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { listBalances } from "../../src/database/journal.ts";
import { writtenNames } from "../../src/database/journal-export.ts";
import { amountText } from "../../src/rules/currency.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { filesIn, manifestIn } from "../support/archive.ts";
import { buildThreeSales } from "../support/build-three-sales.ts";
import { linksIn } from "../support/html.ts";
import { balancesByHledger, needed, onJournal } from "../support/journal-tools.ts";

let base: TestApp;
let guild: Awaited<ReturnType<typeof buildThreeSales>>;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  guild = await buildThreeSales(base.db);
  const { id } = guild.weaver;
  await base.db.member.update({ where: { id }, data: { name: '=HYPERLINK("x"), Ann' } });
  treasurer = await signedIn(base, guild.treasurer);
  weaver = await signedIn(base, guild.weaver);
});
afterAll(() => base.close());

const settled = (rest: string) => `/books/${guild.settled.sale.id}${rest}`;
const selling = (rest: string) => `/books/${guild.selling.id}${rest}`;

// csv-parse is another reader of RFC 4180, which shares nothing with the writer.
const rowsOf = (text: string) => parse(text, { columns: true }) as Record<string, string>[];
const bytes = (client: Client, path: string, by: "visit" | "get" = "visit") =>
  client[by](path)
    .buffer()
    .parse((answer, done) => {
      const parts: Buffer[] = [];
      answer.on("data", (part: Buffer) => parts.push(part));
      answer.on("end", () => done(null, new Uint8Array(Buffer.concat(parts))));
    });

describe("the page", () => {
  test("says what each file is, and every link gives a file", async () => {
    const page = await treasurer.visit(settled("/exports"));
    expect(page.status).toBe(200);
    for (const text of ["Fetch the archive", "Tables of this sale", "Journal of all sales"])
      expect(page.text).toContain(text);
    const files = linksIn(page.text).filter((href) => /\.(csv|txt|zip)$/.test(href));
    expect(files).toHaveLength(14);
    for (const href of files) {
      const answer = await treasurer.visit(href);
      const { "content-disposition": kept } = answer.headers;
      expect([href, answer.status, kept]).toEqual([
        ...[href, 200],
        expect.stringMatching(/^attachment; filename="[a-z0-9-]+\.(csv|journal|zip)"$/),
      ]);
    }
    expect(linksIn((await treasurer.visit(settled(""))).text)).toContain(settled("/exports"));
  });

  test("is the treasurer's and the chair's; unknown sales and tables are not found", async () => {
    for (const path of ["/exports", "/exports/items.csv", "/archive.zip", "/journal.txt"]) {
      expect((await weaver.visit(settled(path))).status).toBe(403);
      expect((await treasurer.visit(`/books/${v7()}${path}`)).status).toBe(404);
    }
    expect((await weaver.visit("/books/members.csv")).status).toBe(403);
    for (const name of ["nothing.csv", "items", "members.csv"])
      expect((await treasurer.visit(settled(`/exports/${name}`))).status).toBe(404);
  });
});

describe("tables", () => {
  const table = async (name: string, path = settled) =>
    rowsOf((await treasurer.visit(path(`/exports/${name}.csv`))).text);

  test("texts that look like formulas are guarded, amounts are not", async () => {
    const { text } = await treasurer.visit(settled("/exports/receipt-lines.csv"));
    expect(text).toContain(`"'=HYPERLINK(""x""), Ann"`);
    expect(text.split("\r\n").length).toBeGreaterThan(4);
    expect(text.replaceAll("\r\n", "")).not.toMatch(/[\r\n]/);
    const journal = await table("journal");
    expect(journal.some(({ Amount }) => /^-\d+\.\d\d$/.test(Amount ?? ""))).toBe(true);
  });

  test("hold every row of the sale and none of another", async () => {
    const { db } = base;
    const sale = { saleId: guild.selling.id };
    const counts = {
      receipts: await db.receipt.count({ where: sale }),
      "receipt-lines": await db.receiptLine.count({ where: { receipt: sale } }),
      tenders: await db.receiptTender.count({ where: { receipt: sale } }),
      items: await db.item.count({ where: sale }),
      movements: await db.movement.count({ where: { item: sale } }),
      statements: 0,
      payouts: 0,
      journal: await db.posting.count({ where: { entry: sale } }),
    };
    for (const [name, count] of Object.entries(counts))
      expect({ name, rows: (await table(name, selling)).length }).toEqual({ name, rows: count });
    const statements = await table("statements");
    expect(statements).toHaveLength(await db.statement.count());
    expect((await table("payouts"))[0]).toMatchObject({ "Paid by": "cheque", Reference: "2041" });
  });

  test("receipts and lines add up to what was taken; a return stands below zero", async () => {
    const cents = (rows: Record<string, string>[], head: string) =>
      rows.reduce((sum, row) => sum + Number((row[head] ?? "").replace(".", "")), 0);
    const [receipts, lines, tenders] = [
      await table("receipts", selling),
      await table("receipt-lines", selling),
      await table("tenders", selling),
    ];
    expect(cents(receipts, "Subtotal")).toBe(cents(lines, "Amount without tax"));
    expect(cents(receipts, "Total") + cents(receipts, "Cash rounding")).toBe(
      cents(tenders, "Amount"),
    );
    expect(receipts.map(({ Receipt }) => Receipt)).toContain("1-0005");
    expect(receipts.find(({ Kind }) => Kind === "void")).toMatchObject({ "Takes back": "1-0004" });
    expect(cents(await table("journal", selling), "Amount")).toBe(0);
  });

  test("the list of members has no secret in it", async () => {
    const { text } = await treasurer.visit("/books/members.csv");
    expect(rowsOf(text)).toHaveLength(await base.db.member.count());
    expect(text).not.toMatch(/argon|hash|\$/i);
  });
});

describe("the API", () => {
  const api = (rest: string) => `/api/sales/${guild.settled.sale.id}${rest}`;

  test("gives the same files as the page", async () => {
    const { body } = await treasurer.get("/api/exports");
    expect(body.items.map(({ name }: { name: string }) => name)).toContain("receipt-lines");
    const one = await treasurer.get(api("/exports/items"));
    expect(one.headers["content-type"]).toBe("text/csv; charset=utf-8; header=present");
    expect(one.text).toBe((await treasurer.visit(settled("/exports/items.csv"))).text);
    expect((await treasurer.get(api("/journal"))).text).toBe(
      (await treasurer.visit(settled("/journal.txt"))).text,
    );
    const moment = new Date("2026-12-24T10:00:00Z");
    base.at(moment);
    const signedInThen = await signedIn(base, guild.chair);
    const zip = (await bytes(signedInThen, api("/archive"), "get")).body as Uint8Array;
    expect(manifestIn(zip)).toMatchObject({ madeAt: moment.toISOString() });
    const page = (await bytes(signedInThen, settled("/archive.zip"))).body as Uint8Array;
    expect(filesIn(page)).toEqual(filesIn(zip));
    base.at(new Date());
  });

  test("refuses members, unknown sales and unknown tables", async () => {
    for (const path of [api("/archive"), api("/exports/items"), "/api/members.csv", "/api/journal"])
      expect((await weaver.get(path)).status).toBe(403);
    expect((await treasurer.get(`/api/sales/${v7()}/archive`)).status).toBe(404);
    expect((await treasurer.get(`/api/sales/${v7()}/exports/items`)).status).toBe(404);
    expect((await treasurer.get(api("/exports/nothing"))).status).toBe(400);
  });
});

// hledger and ledger, from Debian, work out every balance on their own.
describe.runIf(needed("hledger") && needed("ledger"))("journals", () => {
  const strict = (text: string) => [
    onJournal(text, "hledger", ["check", "-s", "ordereddates"]),
    onJournal(text, "ledger", ["--strict", "--pedantic", "bal", "-n"]),
  ];

  test("of all sales agree with every one of our balances to the cent", async () => {
    const { text } = await treasurer.visit("/books/journal.txt");
    for (const { status, stderr } of strict(text)) expect([status, stderr]).toEqual([0, ""]);
    const names = await writtenNames(base.db, null);
    const ours = (await listBalances(base.db))
      .filter(({ key, balance }) => names.has(key) && balance !== 0)
      .map(({ key, balance }) => [names.get(key), `USD ${amountText(balance, "USD")}`]);
    expect(ours.length).toBeGreaterThan(5);
    expect(balancesByHledger(text)).toEqual(Object.fromEntries(ours));
    expect(text).toMatch(/account assets:drawers:\d{4}-\d\d-\d\d Winter sale:till 1\n/);
    expect(text).toContain(`account liabilities:members:${guild.weaver.number}\n`);
  });

  test("of one sale are accepted too; any cent, account or day out of place is not", async () => {
    const { text } = await treasurer.visit(selling("/journal.txt"));
    for (const { status, stderr } of strict(text)) expect([status, stderr]).toEqual([0, ""]);
    const amounts = [...text.matchAll(/ {2}USD (-?\d+\.\d)(\d)\n/g)];
    for (const amount of amounts.filter((_one, index) => index % 4 === 0)) {
      const place = amount.index + amount[0].length - 2;
      const other = String((Number(amount[2]) + 1) % 10);
      for (const { status } of strict(text.slice(0, place) + other + text.slice(place + 1)))
        expect(status).not.toBe(0);
    }
    const misspelt = text.replace(/(\n {4}liabilities:members:)\d+/, "$1999");
    for (const { status } of strict(misspelt)) expect(status).not.toBe(0);
    const undeclared = text.replace(/\naccount liabilities:tax[^\n]*/, "");
    for (const { status } of strict(undeclared)) expect(status).not.toBe(0);
    const first = text.replace(/\n\d{4}(-\d\d-\d\d \*)/, "\n2999$1");
    expect(strict(first)[0]?.status).not.toBe(0);
  });
});
