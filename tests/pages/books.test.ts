import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildSettling, closeTill, giveBack } from "../support/build-settlement.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let base: TestApp;
let hall: Awaited<ReturnType<typeof buildSettling>>;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  hall = await buildSettling(base.db);
  treasurer = await signedIn(base, hall.treasurer);
  weaver = await signedIn(base, hall.weaver);
});
afterAll(() => base.close());

const sale = (rest = "") => `/books/${hall.sale.id}${rest}`;
/** The words of a page as a person reads them. */
const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const statementOf = async (memberId: string, order: "asc" | "desc" = "asc") =>
  base.db.statement.findFirstOrThrow({ where: { memberId }, orderBy: { number: order } });
const fingerprintOn = (html: string) => /name="fingerprint" value="([0-9a-f]{64})"/.exec(html)?.[1];

describe("before the settlement", () => {
  test("the books name the sale, its figures and the open till", async () => {
    expect(read((await treasurer.visit("/books")).text)).toContain("Autumn sale");
    const words = read((await treasurer.visit(sale())).text);
    for (const text of ["Till 1", "still open", "Look at the settlement", "$118.31", "$12.35"])
      expect(words).toContain(text);
    expect(words).toMatch(/Unaccounted \$0\.00 0 pieces/);
  });

  test("the preview shows members with their lines", async () => {
    const words = read((await treasurer.visit(sale("/settlement"))).text);
    for (const text of ["Weaver 100", "$84.98", "$17.00", "$67.98", "3 lines", "Till 1 is open"])
      expect(words).toContain(text);
  });

  test("figures that changed meanwhile come back as a page with the new ones", async () => {
    const { text } = await treasurer.visit(sale("/settlement/finalise"));
    const fingerprint = fingerprintOn(text);
    expect(fingerprint).toBeDefined();
    await giveBack(base.db, hall, hall.receipts.first);
    await closeTill(base.db, hall);
    const late = await treasurer.submit(sale("/settlement/finalise"), { fingerprint });
    expect(late.status).toBe(409);
    expect(read(late.text)).toContain("Somebody changed this meanwhile");
    expect(read(late.text)).toContain("$39.98");
    expect(await base.db.settlement.count()).toBe(0);
  });

  test.each([{}, { fingerprint: "x" }, { fingerprint: ["a", "b"] }])(
    "a form without a preview is refused: %j",
    async (fields) => {
      const answer = await treasurer.submit(sale("/settlement/finalise"), fields);
      expect(answer.status).toBe(400);
      expect(await base.db.settlement.count()).toBe(0);
    },
  );

  test("members do not get near, and unknown sales are not found", async () => {
    for (const path of ["/books", sale(), sale("/settlement"), "/books/journal", "/books/check"])
      expect((await weaver.visit(path)).status).toBe(403);
    expect((await treasurer.visit(`/books/${v7()}`)).status).toBe(404);
    expect((await treasurer.visit("/books/not-an-id/settlement")).status).toBe(404);
  });
});

describe("settling and paying", () => {
  test("finalising leads to the statements; the same form sent twice settles once", async () => {
    const { text } = await treasurer.visit(sale("/settlement/finalise"));
    const fields = { fingerprint: fingerprintOn(text) };
    const key = v7();
    const done = await treasurer.submit(sale("/settlement/finalise"), fields, key);
    expect(done.status).toBe(303);
    expect(done.headers.location).toMatch(/^\/books\/settlements\//);
    const again = await treasurer.submit(sale("/settlement/finalise"), fields, key);
    expect([again.status, again.headers.location]).toEqual([303, done.headers.location]);
    expect(await base.db.settlement.count()).toBe(1);
    const second = await treasurer.submit(sale("/settlement/finalise"), fields);
    expect(second.status).toBe(409);
    expect(read(second.text)).toContain(`${hall.treasurer.name} settled this sale`);
  });

  test("statements are searched by number and name, and by what is to be paid", async () => {
    const { settlementId } = await statementOf(hall.weaver.id);
    const path = `/books/settlements/${settlementId}`;
    expect(read((await treasurer.visit(path)).text)).toContain("$26.66");
    const one = read((await treasurer.visit(`${path}?q=${hall.other.number}`)).text);
    expect([one.includes("$26.66"), one.includes("$31.98")]).toEqual([true, false]);
    const paid = read((await treasurer.visit(`${path}?paid=paid`)).text);
    expect(paid).toContain("No statement here");
    const odd = await treasurer.visit(`${path}?q=%25%00&after=x&paid=who`);
    expect(odd.status).toBe(200);
    expect((await treasurer.visit(`/books/settlements/${v7()}`)).status).toBe(404);
  });

  test.each([
    [{ method: "cheque", reference: "", paidOn: "2026-12-05" }, "Give the number of the cheque"],
    [{ method: "gold", reference: "7", paidOn: "2026-12-05" }, "Choose cheque, transfer or cash"],
    [{ method: "cheque", reference: "7", paidOn: "5 December" }, "Give the day of the payment"],
    [{ method: "cheque", reference: "7", paidOn: "2062-12-05" }, "more than a month ahead"],
  ])("a payout form %j is refused and keeps what was typed", async (fields, words) => {
    const { id } = await statementOf(hall.weaver.id);
    const answer = await treasurer.submit(`/books/statements/${id}/payouts`, fields);
    expect(answer.status).toBe(400);
    expect(read(answer.text)).toContain(words);
    expect(answer.text).toContain(`value="${fields.paidOn}"`);
    expect(await base.db.payout.count()).toBe(0);
  });

  test("each payout leads to the next open statement, the last one back to the list", async () => {
    const mine = await statementOf(hall.weaver.id);
    const theirs = await statementOf(hall.other.id);
    const pay = (id: string, reference: string) =>
      treasurer.submit(`/books/statements/${id}/payouts`, {
        method: "cheque",
        reference,
        paidOn: "2026-12-05",
      });
    const first = await pay(mine.id, "1001");
    expect([first.status, first.headers.location]).toEqual([303, `/books/statements/${theirs.id}`]);
    const last = await pay(theirs.id, "1002");
    expect(last.headers.location).toBe(`/books/settlements/${mine.settlementId}`);
    const twice = await pay(mine.id, "1003");
    expect(twice.status).toBe(409);
    expect(read(twice.text)).toContain("by cheque 1001");
  });

  test("a payout is taken back with a reason, never without", async () => {
    const { id } = await statementOf(hall.other.id);
    const payout = await base.db.payout.findFirstOrThrow({ where: { statementId: id } });
    const path = `/books/statements/${id}/payouts/${payout.id}/void`;
    const without = await treasurer.submit(path, { reason: "" });
    expect(without.status).toBe(400);
    expect(read(without.text)).toContain("Say why the payout is void");
    expect((await treasurer.submit(path, { reason: "Lost in the post" })).status).toBe(303);
    const page = read((await treasurer.visit(`/books/statements/${id}`)).text);
    for (const text of ["Why it is void: Lost in the post", "Pay $26.66"])
      expect(page).toContain(text);
    expect((await treasurer.submit(path, { reason: "Again" })).status).toBe(409);
  });

  test("statements come on paper, one and all", async () => {
    const { id, settlementId } = await statementOf(hall.weaver.id);
    const one = await treasurer.visit(`/books/statements/${id}/pdf`).buffer(true);
    expect(await wordsOf((await pagesOf(one.body))[0]!)).toContain("cheque, 1001");
    const all = await treasurer
      .visit(`/books/settlements/${settlementId}/statements.pdf`)
      .buffer(true);
    expect(await pagesOf(all.body)).toHaveLength(2);
    expect((await treasurer.visit(`/books/statements/${v7()}/pdf`)).status).toBe(404);
  });
});

describe("the ledger", () => {
  test("accounts, entries by account and word, and a text for other programs", async () => {
    const accounts = read((await treasurer.visit("/books/accounts")).text);
    for (const text of ["Cash box", "Guild share", "Sales tax"]) expect(accounts).toContain(text);
    const bank = read((await treasurer.visit("/books/journal?account=bank&q=payout")).text);
    for (const text of ["Only entries on Bank", "Payout of statement 1 to member 100"])
      expect(bank).toContain(text);
    expect(bank).not.toContain("Float of till");
    const text = await treasurer.visit(sale("/journal.txt"));
    expect(text.text).toMatch(/^commodity USD\n/);
    expect((await treasurer.visit("/books/journal?after=x&account=%00")).status).toBe(200);
  });

  test("checking the books shows that they are sound", async () => {
    const words = read((await treasurer.visit("/books/check")).text);
    expect(words).toContain("The books are sound");
    expect(words).toContain("0 pieces, $0.00");
  });
});

describe("a member's own page", () => {
  test("shows what sold, what it brings and the statement, and nobody else's", async () => {
    const words = read((await weaver.visit("/results")).text);
    for (const text of ["Autumn sale", "3 of 5", "$39.98", "$31.98", "Paid"])
      expect(words).toContain(text);
    const mine = await statementOf(hall.weaver.id);
    const theirs = await statementOf(hall.other.id);
    const own = await weaver.visit(`/results/statements/${mine.id}/pdf`);
    expect([own.status, own.headers["content-type"]]).toEqual([200, "application/pdf"]);
    expect((await weaver.visit(`/results/statements/${theirs.id}/pdf`)).status).toBe(404);
    expect((await weaver.visit(`/books/statements/${mine.id}`)).status).toBe(403);
  });

  test("lists the pieces of one sale with their times", async () => {
    const words = read((await weaver.visit(`/results/${hall.sale.id}`)).text);
    for (const text of ["Scarf 1", "Brought back", "Donated", "-$45.00"])
      expect(words).toContain(text);
    expect((await treasurer.visit(`/results/${hall.sale.id}`)).status).toBe(404);
    expect((await weaver.visit("/results/not-an-id")).status).toBe(404);
  });

  test("is kind to somebody who has not entered anything", async () => {
    expect(read((await treasurer.visit("/results")).text)).toContain("No sale of yours yet");
  });
});
