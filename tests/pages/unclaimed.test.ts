import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { remindMember } from "../../src/actions/remind-member.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { type Client, signedIn, startApp, type TestApp } from "../support/app.ts";
import { deedOf } from "../support/build.ts";
import { buildOwed, type Owed, prepareBoth } from "../support/build-paying.ts";
import { done } from "../support/build-settlement.ts";
import { errorLinks, linksIn } from "../support/html.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";

let base: TestApp;
let owed: Owed;
let treasurer: Client;
beforeAll(async () => {
  base = await startApp();
  owed = await buildOwed(base.db);
  treasurer = await signedIn(base, owed.treasurer);
});
afterAll(() => base.close());

const read = (html: string) => html.replace(/<[^>]+>/g, " ").replace(/\s+/g, " ");
const days = (count: number) => new Date(Date.now() + count * 86_400_000);
const remind = (statementId: string, number: number, key?: string) =>
  remindMember(deedOf(base.db, owed.treasurer, key), { statementId, number });

describe("what waits", () => {
  test("stands there with its age, and says that it stays the member's", async () => {
    const words = read((await treasurer.visit("/books/unclaimed")).text);
    for (const text of [
      ...[
        "2 payments, $94.64",
        "$67.98",
        "0 days",
        "stays the member's money".replace("'", "&#x27;"),
      ],
      ...["licensed accountant", "not known here"],
    ])
      expect(words.replace("member's", "member&#x27;s")).toContain(text);
    expect(words).not.toContain("Reminder due");
    const one = read((await treasurer.visit(`/books/unclaimed?q=${owed.other.number}`)).text);
    expect([one.includes("$26.66"), one.includes("$67.98")]).toEqual([true, false]);
    expect(read((await treasurer.visit("/books/unclaimed?q=%25%00")).text)).toContain(
      "Nothing found",
    );
  });

  test("names the run that it waits in", async () => {
    const { runId } = done(await prepareBoth(base.db, owed));
    expect(linksIn((await treasurer.visit("/books/unclaimed")).text)).toContain(
      `/books/runs/${runId}`,
    );
  });

  test("asks for a reminder after the days of the guild, once, and again later", async () => {
    base.at(days(31));
    const { text } = await treasurer.visit("/books/unclaimed");
    expect(read(text)).toContain("31 days");
    expect(read(text).match(/Reminder due/g)).toHaveLength(2);
    const path = `/books/statements/${owed.mine}/reminders`;
    const sent = await treasurer.submit(path, { number: "1" });
    expect([sent.status, sent.headers.location]).toEqual([303, "/books/unclaimed"]);
    const twice = await treasurer.submit(path, { number: "1" });
    expect(twice.status).toBe(409);
    const after = read((await treasurer.visit("/books/unclaimed")).text);
    expect(after).toContain("Reminded on");
    const wrong = await treasurer.submit(path, { number: "many" });
    expect([wrong.status, errorLinks(wrong.text)]).toEqual([400, ["number"]]);
  });

  test("reminders are recorded once, by key and ten at once", async () => {
    const key = v7();
    const first = await remind(owed.theirs, 1, key);
    expect(await remind(owed.theirs, 1, key)).toEqual(first);
    const all = await Promise.all(Array.from({ length: 10 }, () => remind(owed.theirs, 2)));
    expect(all.filter(({ ok }) => ok)).toHaveLength(1);
    expect(await remind(owed.theirs, 9)).toMatchObject({ problem: { code: "invalid-input" } });
    expect(await remind(v7(), 1)).toMatchObject({ problem: { code: "not-found" } });
    const where = { statementId: owed.theirs };
    expect(await base.db.reminder.count({ where })).toBe(2);
    await expect(base.db.reminder.deleteMany({ where })).rejects.toThrow();
  });

  test("has a letter to the member that says whose money it is", async () => {
    const { body } = await treasurer
      .visit(`/books/statements/${owed.mine}/letter.pdf`)
      .buffer(true);
    const words = await wordsOf((await pagesOf(body))[0]!);
    for (const text of [
      owed.weaver.name,
      "$67.98",
      "Statement 1",
      "It is your money and stays yours",
    ])
      expect(words).toContain(text);
    expect((await treasurer.visit(`/books/statements/${v7()}/letter.pdf`)).status).toBe(404);
  });
});

describe("the plan of reminders", () => {
  const fields = {
    version: "1",
    name: "",
    account: "",
    bank: "",
    remindFirst: "400",
    remindAgain: "30",
  };

  test("is the guild's to set", async () => {
    expect((await treasurer.submit("/books/paying", fields)).status).toBe(303);
    const late = await treasurer.submit("/books/paying", fields);
    expect(late.status).toBe(409);
  });

  test.each([
    [{ remindFirst: "0" }, "remindFirst"],
    [{ remindAgain: "soon" }, "remindAgain"],
    [{ account: "DE89370400440532013001" }, "account"],
    [{ account: "DE89370400440532013000", bank: "12" }, "bank"],
  ])("%j is refused by its field", async (more, field) => {
    const answer = await treasurer.submit("/books/paying", { ...fields, version: "2", ...more });
    expect([answer.status, errorLinks(answer.text)]).toEqual([400, [field]]);
  });
});

test("ten years later it is still owed: nothing becomes income by waiting", async () => {
  const entries = await base.db.journalEntry.count();
  base.at(days(3_650));
  await base.db.session.updateMany({ data: { expiresAt: days(4_000) } });
  for (const path of ["/books", "/books/unclaimed", "/books/runs", "/books/check", "/results"])
    expect((await treasurer.visit(path)).status).toBe(200);
  const words = read((await treasurer.visit("/books/unclaimed")).text);
  expect(words).toContain("2 payments, $94.64");
  const accountKey = `member/${owed.weaver.id}`;
  const { _sum } = await base.db.posting.aggregate({
    where: { accountKey },
    _sum: { amount: true },
  });
  expect([await base.db.journalEntry.count(), _sum.amount]).toEqual([entries, -6_798n]);
  expect(await checkBooks(base.db)).toMatchObject({ sound: true });
});
