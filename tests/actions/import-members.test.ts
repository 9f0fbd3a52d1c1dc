import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { importMembers, previewMembers } from "../../src/actions/import-members.ts";
import { readMemberList } from "../../src/actions/read-member-list.ts";
import { buildGuild, buildMember, deedOf } from "../support/build.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let chair: Awaited<ReturnType<typeof buildMember>>;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  chair = await buildMember(base.db, ["chair"], { email: "chair@example.org" });
});
afterAll(() => base.drop());

const rowsOf = (text: string) => {
  const read = readMemberList(text);
  if (!read.ok) throw new Error(read.problem.detail);
  return read.value.rows;
};

describe("reading a list", () => {
  test("columns in any order and words, with marks of a spreadsheet around them", () => {
    const text =
      '\ufeffE-Mail;Roles;Surname;First Name\r\nIVY@example.org;"Desk; cashiers";Loom;Ivy\r\n';
    expect(rowsOf(text)).toEqual([
      {
        line: 2,
        name: "Ivy Loom",
        email: "ivy@example.org",
        phone: "",
        roles: ["desk", "cashier"],
        problems: [],
      },
    ]);
  });

  test("blank lines and rows of empty cells are passed over, and lines counted as shown", () => {
    const rows = rowsOf("name,email\n\n,,\nPia Warp,pia@example.org\n");
    expect(rows.map(({ line, name }) => [line, name])).toEqual([[4, "Pia Warp"]]);
  });

  test.each([
    ["no name", ",a@example.org,,", "Give a name"],
    ["a broken e-mail", "Ann,not-an-address,,", "Write the e-mail"],
    ["a made-up role", "Ann,,,wizard", "“wizard” is no role"],
    ["a formula as name", "=HYPERLINK(1),,,", "Write the name in letters"],
    ["a formula as phone", "Ann,,@SUM(A1),", "Write the phone number"],
    ["a control character", "An\u0007n,,,", "plain letters"],
    ["a name that is too long", `${"n".repeat(81)},,,`, "at most 80"],
  ])("%s is named beside its row", (_what, row, words) => {
    const [read] = rowsOf(`name,email,phone,roles\n${row}\n`);
    expect(read?.problems.join("; ")).toContain(words);
  });

  test.each([
    ["", "first line"],
    ["colour,size\nred,1", "first line"],
    ['name\n"Ann', "quotation mark"],
    [`name\n${"Ann\n".repeat(2001)}`, "2001 rows"],
  ])("a list that cannot be read says why: %j", (text, words) => {
    const read = readMemberList(text);
    expect(read.ok ? "" : read.problem.detail).toContain(words);
  });

  test("columns that mean nothing here are named", () => {
    const read = readMemberList("Name,Loom\nAnn,8 shafts");
    expect(read.ok && read.value.ignored).toEqual(["Loom"]);
  });
});

const list = [
  "name,email",
  "Ada Selvage,ada@example.org",
  "Bea Shed,CHAIR@example.org",
  "Cleo Pick,ada@example.org",
  "Dora Beat,",
].join("\n");

test("the preview marks twins and holders and adds nobody", async () => {
  const before = await base.db.member.count();
  const preview = await previewMembers(base.db, list);
  expect(preview.ok && preview.value.rows.map(({ problems }) => problems)).toEqual([
    [],
    ["Member 100 has this e-mail already"],
    ["Line 2 has the same e-mail"],
    [],
  ]);
  expect(preview.ok && [preview.value.good, preview.value.bad]).toEqual([2, 2]);
  expect(await base.db.member.count()).toBe(before);
});

test("two imports of the same list at once add its good rows once", async () => {
  const deeds = ["import-1", "import-1"].map((key) =>
    importMembers(deedOf(base.db, chair, key), list),
  );
  const [one, two] = await Promise.all(deeds);
  expect(one).toEqual(two);
  expect(one?.ok && one.value).toEqual({
    added: [
      { line: 2, number: 101 },
      { line: 5, number: 102 },
    ],
    skipped: 2,
  });
  expect(await base.db.member.count()).toBe(3);
});

test("the same list under another key adds only rows without an e-mail again", async () => {
  const again = await importMembers(deedOf(base.db, chair, "import-2"), list);
  expect(again.ok && again.value.added.map(({ line }) => line)).toEqual([5]);
});

test("a list without one good row is refused", async () => {
  const none = await importMembers(deedOf(base.db, chair), "name,email\nX,chair@example.org");
  expect(none.ok ? "" : none.problem.code).toBe("invalid-input");
});

test("a list that does not fit into the numbers adds nobody", async () => {
  const before = await base.db.member.count();
  const text = `name\n${"Ann Tabby\n".repeat(900)}`;
  const result = await importMembers(deedOf(base.db, chair), text);
  expect(result.ok ? "" : result.problem.code).toBe("limit-reached");
  expect(await base.db.member.count()).toBe(before);
});
