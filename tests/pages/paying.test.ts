import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readXml } from "../rules/paying/xml-reader.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildOwed, ibans, type Owed, typeBank } from "../support/build-paying.ts";
import { errorLinks, linksIn } from "../support/html.ts";
import { faultsOf } from "../support/payment-message.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let base: TestApp;
let owed: Owed;
let treasurer: Client;
let weaver: Client;
beforeAll(async () => {
  base = await startApp();
  owed = await buildOwed(base.db);
  treasurer = await signedIn(base, owed.treasurer);
  weaver = await signedIn(base, owed.weaver);
});
afterAll(() => base.close());

/** The words of a page as a person reads them. */
const read = (html: string) =>
  html
    .replace(/<[^>]+>/g, " ")
    .replace(/&#x27;/g, "'")
    .replace(/\s+/g, " ");
const ticks = (html: string) => [...html.matchAll(/type="checkbox" value="([^"]+)"( checked)?/g)];
const prepare = (fields: Record<string, unknown>, key?: string) =>
  treasurer.submit("/books/runs", { saleId: "", day: "2026-12-05", ...fields }, key);
const drop = (path: string) =>
  treasurer.submit(`${path}/drops`, { positions: ["1", "2"], reason: "Try again" });

describe("a run of cheques", () => {
  let path: string;

  test("starts from a list of whom to pay, all ticked", async () => {
    expect(read((await treasurer.visit("/books/runs")).text)).toContain("No paying run yet");
    const { text } = await treasurer.visit("/books/runs/new");
    for (const words of ["$67.98", "$26.66", "Prepare the run"])
      expect(read(text)).toContain(words);
    expect(ticks(text).map(([, id, on]) => [id, on])).toEqual([
      [owed.mine, " checked"],
      [owed.theirs, " checked"],
    ]);
  });

  test.each([
    [{ method: "cheque", firstCheque: "" }, "firstCheque", "Give the number of the first cheque"],
    [{ method: "cheque", firstCheque: "7", statementIds: [] }, "statementIds", "Tick at least one"],
    [{ method: "gold" }, "method", "Choose cheque, transfer or cash"],
    [{ method: "cash", day: "Friday" }, "day", "Give the day of the payment"],
    [{ method: "cash", statementIds: "x" }, "statementIds.0", ""],
  ])("%j is refused with what was typed", async (fields, field, words) => {
    const answer = await prepare({ statementIds: [owed.theirs], ...fields });
    expect(answer.status).toBe(400);
    expect(errorLinks(answer.text)).toContain(field);
    expect(read(answer.text)).toContain(words);
    expect(await base.db.payingRun.count()).toBe(0);
  });

  test("a refused form keeps its ticks and its day", async () => {
    const { text } = await prepare({
      method: "cheque",
      firstCheque: "",
      statementIds: owed.theirs,
    });
    expect(ticks(text).map(([, , on]) => on)).toEqual([undefined, " checked"]);
    expect(text).toContain('value="2026-12-05"');
  });

  test("is prepared once, also when the form is sent twice", async () => {
    const fields = {
      method: "cheque",
      firstCheque: "0099",
      statementIds: [owed.mine, owed.theirs],
    };
    const key = v7();
    const done = await prepare(fields, key);
    expect(done.status).toBe(303);
    path = String(done.headers.location);
    expect((await prepare(fields, key)).headers.location).toBe(path);
    const second = await prepare({ ...fields, firstCheque: "0200" });
    expect(second.status).toBe(409);
    const words = read((await treasurer.visit(path)).text);
    for (const text of ["Paying run 1", "0100", "2 payments, $94.64 still to record"])
      expect(words).toContain(text);
    expect(read((await treasurer.visit("/books/runs/new")).text)).toContain(
      "Nobody waits for this",
    );
  });

  test("prints numbers, payees, figures and words, the same each time", async () => {
    const print = async () =>
      (await treasurer.visit(`${path}/cheques.pdf`).buffer(true)).body as Buffer;
    const bytes = await print();
    expect((await print()).equals(bytes)).toBe(true);
    const words = await wordsOf((await pagesOf(bytes))[0]!);
    for (const text of [
      ...["Alder Creek Weavers", "Paying run 1", "0099", "0100", owed.weaver.name, "$67.98"],
      ...["Sixty-seven and 98/100 dollars", "Twenty-six and 66/100 dollars", "page 1 of 1"],
      "2 payments, $94.64",
    ])
      expect(words).toContain(text);
    expect((await treasurer.visit(`${path}/transfers.xml`)).status).toBe(404);
  });

  test("records the ticked ones as paid, and says who was quicker", async () => {
    const without = await treasurer.submit(`${path}/payments`, { paidOn: "2026-12-05" });
    expect([without.status, errorLinks(without.text)]).toEqual([400, ["positions"]]);
    const strange = await treasurer.submit(`${path}/payments`, {
      positions: "2",
      paidOn: "2062-12-05",
    });
    expect([strange.status, errorLinks(strange.text)]).toEqual([400, ["paidOn"]]);
    const paid = await treasurer.submit(`${path}/payments`, {
      positions: "2",
      paidOn: "2026-12-05",
    });
    expect([paid.status, paid.headers.location]).toEqual([303, path]);
    const again = await treasurer.submit(`${path}/payments`, {
      positions: "2",
      paidOn: "2026-12-05",
    });
    expect(again.status).toBe(409);
    expect(read(again.text)).toContain(`${owed.treasurer.name} recorded as paid`);
    expect(read((await treasurer.visit(`/books/statements/${owed.theirs}`)).text)).toContain(
      "0100",
    );
  });

  test("drops with a reason, and what is dropped leaves the list", async () => {
    const without = await treasurer.submit(`${path}/drops`, { positions: "1", reason: "" });
    expect([without.status, errorLinks(without.text)]).toEqual([400, ["reason"]]);
    const done = await treasurer.submit(`${path}/drops`, {
      positions: "1",
      reason: "Coffee on it",
    });
    expect(done.status).toBe(303);
    const words = read((await treasurer.visit(path)).text);
    for (const text of ["Dropped", "Coffee on it", "Paid"]) expect(words).toContain(text);
    const { body } = await treasurer.visit(`${path}/cheques.pdf`).buffer(true);
    const printed = await wordsOf((await pagesOf(body))[0]!);
    expect([printed.includes("0099"), printed.includes("0100")]).toEqual([false, true]);
  });

  test("stands in a list that is searched", async () => {
    expect(read((await treasurer.visit("/books/runs")).text)).toContain("Run 1");
    expect(read((await treasurer.visit("/books/runs?q=0100")).text)).toContain("Run 1");
    const nothing = read((await treasurer.visit("/books/runs?q=%25%00&after=x")).text);
    expect(nothing).toContain("No run found");
  });
});

describe("a run of transfers", () => {
  test("names whoever has no account, and where to type it", async () => {
    const { text } = await treasurer.visit("/books/runs/new?method=transfer");
    expect(read(text)).toContain("Nobody waits for this");
    await typeBank(base.db, owed.weaver, { account: "12-3456", payMethod: "transfer" });
    const wished = (await treasurer.visit("/books/runs/new?method=transfer")).text;
    expect(read(wished)).toContain("Account ends in 3456");
    expect(wished).not.toContain("12-3456");
  });

  test("gives a list always, and a message once every account is an IBAN", async () => {
    const done = await prepare({ method: "transfer", statementIds: owed.mine });
    const path = String(done.headers.location);
    const csv = await treasurer.visit(`${path}/transfers.csv`);
    expect(csv.headers["content-type"]).toBe("text/csv; charset=utf-8");
    expect(csv.text.split("\r\n")[1]).toBe(
      `2026-12-05,${owed.weaver.name},12-3456,,67.98,USD,"Autumn sale, statement 1",RUN2-ST1`,
    );
    const { text } = await treasurer.visit(path);
    expect(read(text)).toContain("No message (XML) for the bank yet");
    expect(linksIn(text)).toContain(`/members/${owed.weaver.id}/payment`);
    expect(linksIn(text)).toContain("/books/paying");
    const refused = await treasurer.visit(`${path}/transfers.xml`);
    expect([refused.status, read(refused.text).includes("IBAN")]).toEqual([400, true]);
    await treasurer.submit(`${path}/drops`, { positions: "1", reason: "Account mended" });
    expect((await treasurer.visit(`${path}/transfers.csv`)).status).toBe(404);
  });

  test("the message keeps to the standard and is the same each time", async () => {
    const bank = { account: ibans.german, bank: "DEUTDEFF", payee: "Zoë & Ada Weaver" };
    await typeBank(base.db, owed.weaver, { ...bank, version: 1, payMethod: "transfer" });
    const payer = {
      name: "",
      account: ibans.french,
      bank: "",
      remindFirst: "30",
      remindAgain: "60",
    };
    expect((await treasurer.submit("/books/paying", { ...payer, version: "1" })).status).toBe(303);
    const done = await prepare({ method: "transfer", statementIds: owed.mine });
    const path = String(done.headers.location);
    const { text: page } = await treasurer.visit(path);
    expect(linksIn(page)).toContain(`${path}/transfers.xml`);
    const first = await treasurer.visit(`${path}/transfers.xml`).buffer(true);
    const xml = first.text ?? String(first.body);
    expect(faultsOf(readXml(xml))).toEqual([]);
    for (const part of [
      "RUN3-ST1",
      "67.98",
      ibans.german,
      "Zoe + Ada Weaver",
      "Alder Creek Weavers",
    ])
      expect(xml).toContain(part);
    const second = await treasurer.visit(`${path}/transfers.xml`).buffer(true);
    expect(second.text ?? String(second.body)).toBe(xml);
    expect((await drop(path)).status).toBe(404);
    await treasurer.submit(`${path}/drops`, { positions: "1", reason: "For the next test" });
  });
});

test("a run of cash prints lines to sign on, for member and witness", async () => {
  const done = await prepare({ method: "cash", statementIds: owed.mine });
  const { body } = await treasurer.visit(`${done.headers.location}/signatures.pdf`).buffer(true);
  const words = await wordsOf((await pagesOf(body))[0]!);
  for (const text of [
    "Cash to sign for",
    "Zoë & Ada Weaver",
    "$67.98",
    "Signature of the member",
    "Witness",
  ])
    expect(words).toContain(text);
});

test("members do not get near, and unknown runs are not found", async () => {
  const { id } = await base.db.payingRun.findFirstOrThrow();
  for (const path of [
    ...["/books/runs", "/books/runs/new", `/books/runs/${id}`, `/books/runs/${id}/cheques.pdf`],
    ...["/books/unclaimed", "/books/paying", `/books/statements/${owed.mine}/letter.pdf`],
  ])
    expect((await weaver.visit(path)).status, path).toBe(403);
  expect((await weaver.submit("/books/runs", {})).status).toBe(403);
  for (const path of [`/books/runs/${v7()}`, "/books/runs/x", `/books/runs/${v7()}/cheques.pdf`])
    expect((await treasurer.visit(path)).status).toBe(404);
  expect((await treasurer.submit(`/books/runs/${v7()}/payments`, {})).status).toBe(404);
});
