import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildThreeSales } from "../support/build-three-sales.ts";
import { errorLinks, linksIn } from "../support/html.ts";

let base: TestApp;
let guild: Awaited<ReturnType<typeof buildThreeSales>>;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  guild = await buildThreeSales(base.db);
  treasurer = await signedIn(base, guild.treasurer);
  weaver = await signedIn(base, guild.weaver);
});
afterAll(() => base.close());

const settled = (part = "") => `/books/${guild.settled.sale.id}${part}`;
const selling = (part = "") => `/books/${guild.selling.id}${part}`;
/** The words of a page as a person reads them. */
const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const words = async (path: string) => {
  const { status, text } = await treasurer.visit(path);
  expect(status).toBe(200);
  return read(text);
};
const coins = (money: string): number => Number(money.replace(/[^\d-]/g, ""));

const salePaths = ["/takings", "/tax", "/banking", "/income", "/deposits", "/card-totals"];
const rowPaths = ["/receipts", "/lines", "/tax.csv"];
const bookPaths = ["/tax", "/tax.csv", "/payables", "/year-end", "/year-end.csv"];
const all = () => [
  ...[...salePaths, ...rowPaths].map(settled),
  ...[...bookPaths, "/year-end/threshold"].map((part) => `/books${part}`),
];

test("a treasurer finds every figure from the books of a sale", async () => {
  const links = linksIn((await treasurer.visit(settled())).text);
  for (const part of ["/takings", "/tax", "/banking", "/income"])
    expect(links).toContain(settled(part));
  expect(links).toEqual(expect.arrayContaining(["/books/payables", "/books/year-end"]));
  const over = linksIn((await treasurer.visit("/books")).text);
  for (const part of ["/tax", "/payables", "/year-end"]) expect(over).toContain(`/books${part}`);
  const bank = linksIn((await treasurer.visit(settled("/banking"))).text);
  expect(bank).toEqual(expect.arrayContaining([settled("/deposits"), settled("/card-totals")]));
});

test("only the treasurer and the chair see them, and no page is left out of the books' guard", async () => {
  for (const path of all()) {
    expect([path, (await treasurer.visit(path)).status]).toEqual([path, 200]);
    expect([path, (await weaver.visit(path)).status]).toEqual([path, 403]);
  }
  for (const part of salePaths) {
    expect((await treasurer.visit(`/books/${v7()}${part}`)).status).toBe(404);
    expect((await treasurer.visit(`/books/nonsense${part}`)).status).toBe(404);
  }
});

describe("takings", () => {
  test("agree with the books, in charts without inline style and in tables", async () => {
    for (const path of [settled("/takings"), selling("/takings")]) {
      const { text } = await treasurer.visit(path);
      expect(read(text)).toContain("This agrees with the books");
      expect(text.match(/<svg /g)?.length).toBeGreaterThanOrEqual(4);
      expect(text).not.toMatch(/\sstyle=/);
    }
  });

  test("each bar and row leads to rows that come to its amount", async () => {
    const { text } = await treasurer.visit(selling("/takings"));
    const rows = [...text.matchAll(/<a href="([^"]+)"><title>[^<]*: ([^<:]+)<\/title>/g)];
    expect(rows.length).toBeGreaterThanOrEqual(4);
    const inTables = linksIn(text);
    for (const [, href = "", shown = ""] of rows) {
      const path = href.replaceAll("&amp;", "&");
      expect(inTables.filter((link) => link === path).length).toBeGreaterThanOrEqual(2);
      const page = read((await treasurer.visit(path)).text);
      const together = /Together .*?\.(?= )/.exec(page)?.[0] ?? "";
      expect([path, together]).toEqual([path, expect.stringContaining(shown.trim())]);
    }
  });

  test("an empty sale says so, and odd questions are answered in words", async () => {
    const entering = await base.db.sale.findFirstOrThrow({ where: { stage: "entries-open" } });
    expect(await words(`/books/${entering.id}/takings`)).toContain("Nothing was taken yet");
    for (const asked of ["?till=x", "?tender=gold", "?hour=2026-99-99T99", "?q=%00%25&after=x"])
      expect((await treasurer.visit(selling(`/receipts${asked}`))).status).toBe(200);
    expect(await words(selling("/receipts?till=99"))).toContain("No receipt here");
    expect(await words(selling("/lines?kind=nothing&after=y"))).toContain("No line here");
  });
});

describe("sales tax", () => {
  test("of a sale ties to its account and says where to ask", async () => {
    const page = await words(settled("/tax"));
    for (const text of ["This agrees with the books", "licensed accountant", "Sales tax, 8.25 %"])
      expect(page).toContain(text);
  });

  test("of a span of days holds both its ends, and nothing outside", async () => {
    const { today } = await dayOfSale();
    expect(await words(`/books/tax?from=${today}&to=${today}`)).toContain(
      "This agrees with the books",
    );
    expect(await words("/books/tax?from=2001-01-01&to=2001-12-31")).toContain("No tax here");
    const whole = await csv(`/books/tax.csv?from=2001-01-01&to=2099-12-31`);
    const booked = await base.db.posting.aggregate({
      where: { accountKey: "tax/tax" },
      _sum: { amount: true },
    });
    expect(coins(whole[1]![7]!)).toBe(-Number(booked._sum.amount));
  });

  test.each([
    ["from=2026-13-01&to=2026-12-31", "from"],
    ["from=2026-12-01&to=2026-11-01", "to"],
    ["from=&to=", "from"],
  ])("days that are none (%s) come back as typed", async (asked, field) => {
    const answer = await treasurer.visit(`/books/tax?${asked}`);
    expect(answer.status).toBe(400);
    expect(errorLinks(answer.text)).toContain(field);
    expect((await treasurer.visit(`/books/tax.csv?${asked}`)).status).toBe(400);
  });
});

/** The days on which the receipts were made, where the guild is. */
async function dayOfSale() {
  const { madeAt } = await base.db.receipt.findFirstOrThrow();
  const parts = new Intl.DateTimeFormat("en-CA", { timeZone: "America/Chicago" }).format(madeAt);
  return { today: parts };
}

const csv = async (path: string): Promise<string[][]> => {
  const answer = await treasurer.visit(path);
  expect(answer.headers["content-type"]).toBe("text/csv; charset=utf-8");
  expect(answer.headers["content-disposition"]).toMatch(/^attachment; filename="[\w-]+\.csv"$/);
  expect(answer.text.endsWith("\r\n")).toBe(true);
  return answer.text
    .trimEnd()
    .split("\r\n")
    .map((line) => line.split(","));
};

describe("bank and cards", () => {
  const fields = {
    source: "cash-box",
    amount: "58.71",
    bankedOn: "2026-11-27",
    reference: "Bag 7",
  };

  test("a deposit is typed in once, however often the form is sent", async () => {
    const key = v7();
    const first = await treasurer.submit(selling("/deposits"), fields, key);
    expect([first.status, first.headers.location]).toEqual([303, selling("/deposits")]);
    await treasurer.submit(selling("/deposits"), fields, key);
    const twice = await treasurer.submit(selling("/deposits"), fields);
    expect([twice.status, read(twice.text)]).toEqual([
      409,
      expect.stringContaining("stands already"),
    ]);
    expect(await base.db.deposit.count()).toBe(1);
    expect(await words(selling("/deposits?q=bag"))).toContain("$58.71");
    expect(await words(selling("/deposits?q=nothing"))).toContain("No deposit found");
    expect(await words(selling("/banking"))).toMatch(/Cash from the cash box \$0\.00 \S+ \$58\.71/);
  });

  test.each([
    [{ ...fields, amount: "a lot" }, ["amount"]],
    [{ ...fields, amount: "0" }, ["amount"]],
    [{ ...fields, amount: "-3", bankedOn: "yesterday" }, ["amount", "bankedOn"]],
    [{ ...fields, source: "drawer", reference: "4111 1111 1111 1111" }, ["source", "reference"]],
    [{}, ["amount", "source", "bankedOn"]],
  ])("a deposit %j is refused and keeps what was typed", async (typed, wrong) => {
    const answer = await treasurer.submit(selling("/deposits"), typed);
    expect([answer.status, errorLinks(answer.text)]).toEqual([400, wrong]);
    if ("amount" in typed) expect(answer.text).toContain(`value="${typed.amount}"`);
  });

  test("a card total is laid beside what the tills recorded", async () => {
    const total = { day: "2026-11-27", tillId: "", gross: "12.00", fee: "0.36", reference: "" };
    expect((await treasurer.submit(selling("/card-totals"), total)).status).toBe(303);
    expect(await words(selling("/card-totals"))).toContain("All tills");
    const page = await words(selling("/banking"));
    expect(page).toContain("the terminal says $12.00 more than was recorded");
    expect(page).toContain("Fees that the processor kept: $0.36");
    const wrong = await treasurer.submit(selling("/card-totals"), { ...total, fee: "13" });
    expect([wrong.status, errorLinks(wrong.text)]).toEqual([400, ["fee"]]);
    expect(await words(selling("/income"))).toMatch(/Card fees -\$0\.36/);
  });

  test("each is made void with a reason, never without", async () => {
    const deposit = await base.db.deposit.findFirstOrThrow();
    const path = selling(`/deposits/${deposit.id}/void`);
    expect(await words(path)).toContain("Why is it void?");
    expect(errorLinks((await treasurer.submit(path, { reason: "" })).text)).toEqual(["reason"]);
    expect((await treasurer.submit(path, { reason: "Another sale's" })).status).toBe(303);
    expect((await treasurer.submit(path, { reason: "Again" })).status).toBe(409);
    expect(await words(selling("/deposits"))).toContain("Another sale's");
    const total = await base.db.cardTotal.findFirstOrThrow();
    const other = selling(`/card-totals/${total.id}/void`);
    expect((await treasurer.submit(other, { reason: "Typed in wrong" })).status).toBe(303);
    expect((await weaver.submit(other, { reason: "Mine" })).status).toBe(403);
    expect(await words("/books/check")).toContain("The books are sound");
  });
});

describe("what the guild made", () => {
  test("is its own income alone, and each line leads to its entries of this sale", async () => {
    const page = await words(settled("/income"));
    expect(page).toContain("This agrees with the books");
    const [share] = await base.db.$queryRaw<[{ amount: bigint }]>`
      SELECT sum(guild_share) AS amount FROM settlement WHERE sale_id = ${guild.settled.sale.id}::uuid`;
    expect(coins(/Guild share (\S+)/.exec(page)?.[1] ?? "")).toBe(Number(share.amount));
    const { text } = await treasurer.visit(settled("/income"));
    const link = linksIn(text).find((one) => one.includes("account=guild-share")) ?? "";
    const entries = await words(link);
    expect(entries).toContain("Only entries on Guild share, Summer sale");
  });
});

describe("owed to members", () => {
  test("ties to the members' accounts, is searched, and says what is not settled", async () => {
    const page = await words("/books/payables");
    expect(page).toContain("This agrees with the books");
    const owed = await base.db.$queryRaw<{ amount: bigint }[]>`
      SELECT sum(due) AS amount FROM statement s WHERE NOT EXISTS (SELECT 1 FROM payout p WHERE p.statement_id = s.id)`;
    expect(coins(/Owed in all (\S+)/.exec(page)?.[1] ?? "")).toBe(Number(owed[0]?.amount));
    const { number } = guild.settled.other;
    expect(await words(`/books/payables?q=${number}`)).toMatch(new RegExp(`${number} Weaver`));
    expect(await words("/books/payables?q=nobody")).toContain("Nobody here");
    expect(await words("/books/payables?age=91")).toContain("90+ days");
    for (const odd of ["?age=x", "?after=-1", "?q=%00"])
      expect((await treasurer.visit(`/books/payables${odd}`)).status).toBe(200);
  });
});

describe("the year", () => {
  const year = new Date().getFullYear();

  test("has a line for each member that ties to the accounts", async () => {
    const page = await words(`/books/year-end?year=${year}`);
    expect(page).toContain("This agrees with the books");
    expect(page).toContain("licensed accountant");
    expect(page).toContain("No reporting threshold is set");
    const rows = await csv(`/books/year-end.csv?year=${year}`);
    const sold = rows.slice(1).reduce((sum, row) => sum + coins(row[2]!), 0);
    const [ledger] = await base.db.$queryRaw<[{ amount: bigint }]>`
      SELECT -sum(p.amount) AS amount FROM posting p JOIN journal_entry e ON e.id = p.entry_id
      WHERE p.account_key LIKE 'member/%' AND e.kind = 'receipt'`;
    expect(sold).toBe(Number(ledger.amount));
    expect(await words("/books/year-end?year=1999")).toContain("Nothing in this year");
    expect(await words(`/books/year-end?year=${year}&q=nobody`)).toContain("No member found");
    expect((await treasurer.visit("/books/year-end?year=99999&after=x")).status).toBe(200);
  });

  test("a name that a spreadsheet would run is disarmed in the file, and no amount is", async () => {
    const { id } = guild.weaver;
    await base.db.member.update({ where: { id }, data: { name: "=1+1" } });
    const { text } = await treasurer.visit(`/books/year-end.csv?year=${year}`);
    expect(text).toContain(",'=1+1,");
    expect(text).not.toMatch(/,'-?\d/);
  });

  test("the threshold flags who reaches it, and is kept as typed when it is none", async () => {
    const path = "/books/year-end/threshold";
    const { version } = await base.db.guild.findFirstOrThrow();
    const fields = { amount: "", counts: "sold", from: "at", version: String(version) };
    const wrong = await treasurer.submit(path, { ...fields, amount: "two thousand", counts: "x" });
    expect(wrong.status).toBe(400);
    expect(wrong.text).toContain('value="two thousand"');
    const member = (await csv(`/books/year-end.csv?year=${year}`))[1]!;
    const set = await treasurer.submit(path, { ...fields, amount: member[2] });
    expect(set.headers.location).toBe("/books/year-end");
    expect((await treasurer.submit(path, { ...fields, amount: "5" })).status).toBe(409);
    expect(await words(`/books/year-end?year=${year}&q=${member[0]}`)).toContain(
      "Reaches the threshold",
    );
    const over = { ...fields, amount: member[2], from: "over", version: String(version + 1) };
    await treasurer.submit(path, over);
    expect(await words(`/books/year-end?year=${year}&q=${member[0]}`)).not.toContain("Reaches");
    expect((await weaver.submit(path, fields)).status).toBe(403);
  });
});
