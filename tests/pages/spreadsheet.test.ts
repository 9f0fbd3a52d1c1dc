import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type Client, signedIn, type TestApp } from "../support/app.ts";
import { type Member, startAtEntry } from "../support/at-entry.ts";
import { buildMember } from "../support/build.ts";
import { early, late } from "../support/build-items.ts";
import { errorLinks, linksIn } from "../support/html.ts";

let base: TestApp;
let member: Member;
let own: Client;
let sale: { id: string };

beforeAll(async () => {
  ({ base, member, own, sale } = await startAtEntry());
});
afterAll(() => base.close());

const head = "Kind;Description;Price;Fibres;Colours";
const good = (colours: string) => `Towel;Huck towel;28;60 cotton 40 linen;${colours}`;
const bad = "Hat;Caf\u00e9 hat;28;moonlight;=Indigo";
const text = [head, good("Indigo"), bad, good("Moss"), ""].join("\r\n");
const newest = () => base.db.itemList.findFirstOrThrow({ orderBy: { id: "desc" } });
const count = () => base.db.item.count({ where: { memberId: member.id } });
const upload = (file: Buffer) => own.upload("/items/spreadsheet", { sale: sale.id }, file);

describe("looking at a list", () => {
  test.each<[string, Buffer]>([
    ["UTF-8", Buffer.from(text)],
    ["UTF-8 with its mark", Buffer.from(`\ufeff${text}`)],
    ["Windows-1252", Buffer.from(text, "latin1")],
    ["UTF-16", Buffer.from(`\ufeff${text}`, "utf16le")],
  ])("a file in %s shows each row with its result", async (_what, file) => {
    const page = await upload(file);
    expect(page.status).toBe(200);
    expect(page.text).toContain("Caf\u00e9 hat");
    expect(page.text).toContain("Enter the 2 good rows");
    expect(page.text).toContain("“Hat” is no kind of this guild");
    expect(page.text).toContain("“moonlight” is no fibre");
    expect(page.text).toMatch(/data-label="Row">3</);
    expect(await count()).toBe(0);
  });

  test("rows that were pasted are read as well, also with tabs", async () => {
    const page = await own.submit("/items/spreadsheet", {
      sale: sale.id,
      text: text.replaceAll(";", "\t"),
    });
    expect(page.text).toContain("Enter the 2 good rows");
  });

  test.each<[string, string, string]>([
    ["nothing", "", "Paste the list, or choose a file"],
    ["no headings", "red;blue\n1;2", "these are missing"],
    ["an open quotation mark", `${head}\n"Towel`, "quotation mark"],
    ["a very long text", "x".repeat(200_001), "too long"],
  ])("%s is told at the field and nothing typed is lost", async (_what, typed, words) => {
    const page = await own.submit("/items/spreadsheet", { sale: sale.id, text: typed });
    expect(page.status).toBe(400);
    expect(errorLinks(page.text)).toEqual(["text"]);
    expect(page.text).toContain(words);
    expect(page.text).toContain(typed.slice(0, 10).replaceAll('"', "&quot;"));
  });

  test("the rows to mend come as a file with what is wrong beside each, which can come back", async () => {
    const file = await own.submit("/items/spreadsheet/mend", { sale: sale.id, text });
    expect(file.headers["content-type"]).toContain("text/csv");
    expect(file.headers["content-disposition"]).toContain("rows-to-mend.csv");
    const lines = file.text.split("\r\n");
    expect(lines[0]).toBe("Kind,Description,Price,Fibres,Colours,What to mend");
    expect(lines[1]).toMatch(/^Hat,Caf\u00e9 hat,28,moonlight,'=Indigo,"?Kind: “Hat” is no kind/);
    expect(lines).toHaveLength(3);
    const mended = file.text.replace("Hat,", "Towel,").replace("moonlight", "linen");
    const page = await own.submit("/items/spreadsheet", { sale: sale.id, text: mended });
    expect(page.text).toContain("Enter the 1 good row");
    expect(page.text).not.toContain("mean nothing here");
  });

  test("the starter file is a list that the sale takes", async () => {
    const start = await own.visit("/items/spreadsheet");
    const href = linksIn(start.text).find((link) => link.includes("starter.csv")) ?? "";
    const file = await own.visit(href);
    expect(file.headers["content-disposition"]).toContain("my-pieces.csv");
    const page = await upload(Buffer.from(file.text));
    expect(page.text).toContain("Enter the 1 good row");
    expect(start.text).toContain("Hours for one");
  });
});

describe("entering a list", () => {
  const send = (more: object = {}, key?: string) =>
    own.submit(
      "/items/spreadsheet/enter",
      { sale: sale.id, text, expected: "2", agreementVersion: "1", ...more },
      key,
    );

  test("without the tick the box is named and the list stays", async () => {
    const page = await send({ agreementVersion: "" });
    expect(page.status).toBe(400);
    expect(errorLinks(page.text)).toEqual(["agreementVersion"]);
    expect(page.text).toContain("Enter the 2 good rows");
    expect(await count()).toBe(0);
  });

  test("the good rows are entered once, however often it is sent, and can be taken back", async () => {
    const key = v7();
    const both = await Promise.all([send({}, key), send({}, key)]);
    expect(both.map(({ status }) => status)).toEqual([303, 303]);
    expect(await count()).toBe(2);
    const path = `/items/lists/${(await newest()).id}`;
    expect(both[0]?.headers.location).toBe(path);
    const page = await own.visit(path);
    expect(page.text).toContain("1 row was left out");
    expect(page.text).toContain("Take this list back (2)");

    const again = await own.submit("/items/spreadsheet", { sale: sale.id, text });
    expect(again.text).toContain("Also enter the 2 rows that look like pieces you have entered");
    expect((await send()).status).toBe(400);
    expect(await count()).toBe(2);
    expect((await send({ twins: "yes", expected: "0" })).status).toBe(303);
    expect(await count()).toBe(4);

    expect((await own.submit(`${path}/withdrawal`)).headers.location).toBe(path);
    const taken = await own.visit(path);
    expect(taken.text).toContain("Put back what was taken back (2)");
    expect(taken.text).not.toContain("Take this list back");
    expect((await own.submit(`${path}/withdrawal/undo`)).status).toBe(303);
    expect((await own.visit(path)).text).toContain("2 as entered");
    const lists = await own.visit("/items/lists");
    expect(linksIn(lists.text)).toContain(path);
  });

  test("somebody else's list answers like an unknown one", async () => {
    const other = await signedIn(base, await buildMember(base.db));
    const { id } = await newest();
    expect((await other.visit(`/items/lists/${id}`)).status).toBe(404);
    expect((await other.submit(`/items/lists/${id}/withdrawal`)).status).toBe(404);
    expect((await other.submit(`/items/lists/${id}/withdrawal/undo`)).status).toBe(404);
    expect((await other.visit(`/items/lists/${v7()}`)).status).toBe(404);
    expect((await other.visit("/items/lists")).text).toContain("No list yet");
  });

  test("the desk enters a list for a member and sees it", async () => {
    const desk = await signedIn(base, await buildMember(base.db, ["desk"]));
    const given = { sale: sale.id, member: String(member.number), text, twins: "yes" };
    const answer = await desk.submit("/items/spreadsheet/enter", given);
    expect(answer.status).toBe(303);
    const page = await desk.visit(String(answer.headers.location));
    expect(page.status).toBe(200);
    expect(linksIn(page.text)).toContain(`/desk/members/${member.number}?sale=${sale.id}`);
    expect((await newest()).memberId).toBe(member.id);
  });

  test("after the deadline the page says so and enters nothing", async () => {
    base.at(late);
    const before = await count();
    expect((await own.visit("/items/spreadsheet")).text).toContain("Entries are closed");
    expect((await send({ twins: "yes" })).status).toBe(409);
    expect(await count()).toBe(before);
    base.at(early);
  });
});
