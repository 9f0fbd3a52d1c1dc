import { v7 } from "uuid";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { type EnterList, enterItemList } from "../../../src/actions/item-lists/enter-item-list.ts";
import { lookAtList } from "../../../src/actions/item-lists/look-at-list.ts";
import { findSale } from "../../../src/database/sales.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../../support/build.ts";
import { early } from "../../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../../support/database.ts";

let base: TestDatabase;
let saleId: string;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  saleId = (await buildSale(base.db)).id;
});
afterAll(() => base.drop());

type Member = Awaited<ReturnType<typeof buildMember>>;

const look = async (text: string, memberId = v7(), sale = saleId) => {
  const found = (await findSale(base.db, sale))!;
  return lookAtList(base.db, { sale: found, memberId, text, twins: "leave" });
};
const rowsOf = async (text: string) => {
  const member = await buildMember(base.db);
  const read = await look(text, member.id);
  if (!read.ok) throw new Error(read.problem.detail);
  return read.value;
};
const enter = (member: Member, text: string, more: Partial<EnterList> = {}, key?: string) =>
  enterItemList(
    deedOf(base.db, member, key),
    { saleId, memberId: member.id, text, twins: "leave", agreementVersion: 1, ...more },
    early,
  );
const count = (memberId: string) => base.db.item.count({ where: { memberId } });

const head = "Kind,Description,Price,Fibres,Colours";
const list = (...rows: string[]) => [head, ...rows, ""].join("\n");
const towel = (colours: string, price = "28.00") => `Towel,Huck towel,${price},cotton,${colours}`;

describe("looking at a list", () => {
  test("columns in any order and words, semicolons, quotes and line ends in cells", async () => {
    const text =
      "\ufeffColor;Fiber;Type;How many;Title;Price;Hours;Materials for one;Donated;Pieces in a set;Technique;Dimensions\r\n" +
      'Indigo;"60 cotton; 40 linen";towels;3;"Huck ""lace""\r\ntowel";$28,00;2:30;8.40;yes;2;Huck lace;18" x 28"\r\n' +
      ";;;;;;;;;;;\r\n" +
      ";wool;Scarf;;Twill scarf;45;;;;;;\r\n";
    const { rows, good, ignored } = await rowsOf(text);
    expect({ good, ignored }).toEqual({ good: 1, ignored: [] });
    expect(rows.map(({ row, faults }) => [row, faults.map(({ field }) => field)])).toEqual([
      [2, ["description"]],
      [4, []],
    ]);
    expect(rows[0]?.item).toMatchObject({
      kind: "towel",
      colours: "Indigo",
      fibres: [
        { fibre: "cotton", percent: 60 },
        { fibre: "linen", percent: 40 },
      ],
      price: 2_800,
      quantity: 3,
      piecesInSet: 2,
      donated: true,
      technique: "Huck lace",
      size: '18" x 28"',
    });
    expect(rows[0]?.making).toEqual({ minutes: 150, materials: 840 });
  });

  test.each([
    ["a strange kind", "Hat,Huck towel,28,cotton,", ["kind"]],
    ["no kind", ",Huck towel,28,cotton,", ["kind"]],
    ["no description", "Towel,,28,cotton,", ["description"]],
    ["too long a description", `Towel,${"x".repeat(61)},28,cotton,`, ["description"]],
    ["no price", "Towel,Huck towel,,cotton,", ["price"]],
    ["a price off the steps", "Towel,Huck towel,28.50,cotton,", ["price"]],
    ["a price below the floor", "Towel,Huck towel,4,cotton,", ["price"]],
    ["no fibres", "Towel,Huck towel,28,,", ["fibres"]],
    ["fibres that make 90", "Towel,Huck towel,28,60 cotton 30 linen,", ["fibres"]],
    ["a fibre of our own", "Towel,Huck towel,28,moonlight,", ["fibres"]],
    ["a control character", "Towel,Huck\u0007 towel,28,cotton,", ["description"]],
    ["everything wrong", "Hat,,x,moonlight,", ["kind", "description", "price", "fibres"]],
    ["a cell too many", "Towel,Huck towel,28,cotton,red,blue", ["row"]],
  ])("%s is named in its row, and the good row stays", async (_what, row, fields) => {
    const { rows, good, faulty } = await rowsOf(list(row, towel("Indigo")));
    expect(rows[0]?.faults.map(({ field }) => field).sort()).toEqual([...fields].sort());
    expect(rows[0]?.faults.every(({ message }) => message.length > 10)).toBe(true);
    expect([good, faulty]).toEqual([1, 1]);
  });

  test.each([
    ["quantity", "How many", "0"],
    ["quantity", "How many", "some"],
    ["piecesInSet", "Set", "100"],
    ["donated", "Donated", "perhaps"],
    ["markdown", "Markdown", "later"],
    ["minutes", "Hours", "long"],
    ["materials", "Materials", "1,2,3"],
  ])("a wrong %s is named", async (field, heading, cell) => {
    const { rows } = await rowsOf(
      `${head.replace("Colours", heading)}\nTowel,Huck towel,28,cotton,"${cell}"\n`,
    );
    expect(rows[0]?.faults.map((fault) => fault.field)).toEqual([field]);
  });

  test("what looks like a formula is text, also when our own guard came with it", async () => {
    const { rows } = await rowsOf(list("Towel,=1+2,28,cotton,'@home"));
    expect(rows[0]?.item).toMatchObject({ description: "=1+2", colours: "@home" });
    expect(rows[0]?.faults).toEqual([]);
  });

  test.each([
    ["Colour,Size\nred,1", "missing: Kind, Description, Price"],
    [`${head},Color\nTowel,a,1,cotton,b,c`, "mean the same"],
    [head, "no rows"],
    [`${head}\n"Towel`, "quotation mark"],
    [list(...Array.from({ length: 301 }, () => towel("Moss"))), "301 rows"],
  ])("a list that cannot be read says why: %#", async (text, words) => {
    const read = await look(text);
    expect(read.ok ? "" : read.problem.detail).toContain(words);
  });

  test("columns that mean nothing are named, except the one of our own file", async () => {
    const { ignored, headings } = await rowsOf(
      `${head},Loom,What to mend\n${towel("Indigo")},8 shafts,Price: x\n`,
    );
    expect(ignored).toEqual(["Loom"]);
    expect(headings).not.toContain("What to mend");
  });

  test("rows over a limit of the sale are faulty, those before them are not", async () => {
    const kind = await base.db.kind.findUniqueOrThrow({ where: { code: "towel" } });
    const limited = await buildSale(base.db, {
      itemLimit: 3,
      kindLimits: { create: { kindId: kind.id, most: 1 } },
    });
    const member = await buildMember(base.db);
    const scarf = "Scarf,Twill scarf,45,wool,";
    const text = list(towel("A"), towel("B"), scarf, scarf, scarf);
    const read = await look(text, member.id, limited.id);
    if (!read.ok) throw new Error(read.problem.detail);
    expect(read.value.rows.map(({ faults }) => faults.map(({ field }) => field))).toEqual([
      [],
      ["kind"],
      [],
      [],
      ["items"],
    ]);
  });
});

describe("entering a list", () => {
  test("good rows get their tags in order, faulty ones are left out, notes are kept", async () => {
    const member = await buildMember(base.db);
    const text = `${head},Hours,Materials\n${towel("Indigo")},2:30,\n${towel("Madder", "x")},1,1\n${towel("Moss")},,8.40\n${towel("Rust")},,\n`;
    const done = await enter(member, text);
    if (!done.ok) throw new Error(JSON.stringify(done.problem));
    expect(done.value.entered.map(({ row, number }) => [row, number])).toEqual([
      [2, 1],
      [4, 2],
      [5, 3],
    ]);
    expect(done.value.leftOut).toBe(1);
    const makings = await base.db.itemMaking.findMany({
      where: { item: { memberId: member.id } },
      orderBy: { item: { number: "asc" } },
    });
    expect(makings).toMatchObject([
      { minutes: 150, materials: null },
      { minutes: null, materials: 840n },
    ]);
    const pieces = await base.db.itemListPiece.findMany({
      where: { listId: done.value.listId },
      orderBy: { row: "asc" },
    });
    expect(pieces.map(({ row }) => row)).toEqual([2, 4, 5]);
  });

  test("300 rows go in one deed", async () => {
    const member = await buildMember(base.db);
    const text = list(...Array.from({ length: 300 }, (_, row) => towel(`Shade ${row}`)));
    const done = await enter(member, text);
    expect(done.ok && done.value.entered.length).toBe(300);
    const last = await base.db.member.findUniqueOrThrow({ where: { id: member.id } });
    expect(last.nextItemNumber).toBe(301);
  });

  test("the same list again: its rows look entered and are left out unless one insists", async () => {
    const member = await buildMember(base.db);
    const text = list(towel("Indigo"), towel("Indigo"), towel("Moss"));
    expect((await enter(member, text)).ok).toBe(true);
    const again = await look(`${text}${towel("indigo")}\n${towel("Moss", "30")}\n`, member.id);
    if (!again.ok) throw new Error(again.problem.detail);
    expect(again.value.rows.map(({ twin }) => twin)).toEqual([true, true, true, false, false]);
    expect(again.value).toMatchObject({ good: 2, twins: 3, faulty: 0 });
    const refused = await enter(member, text);
    expect(refused.ok ? "" : refused.problem.detail).toContain("No row of this list");
    expect(await count(member.id)).toBe(3);
    expect((await enter(member, text, { twins: "enter" })).ok).toBe(true);
    expect(await count(member.id)).toBe(6);
  });

  test("two at once with one key, and two with keys of their own, enter the rows once", async () => {
    const member = await buildMember(base.db);
    const key = v7();
    const text = list(towel("Indigo"), towel("Moss"));
    const same = await Promise.all([enter(member, text, {}, key), enter(member, text, {}, key)]);
    expect(same[0]).toEqual(same[1]);
    expect(await count(member.id)).toBe(2);
    const other = list(towel("Rust"), towel("Sand"));
    const both = await Promise.all([
      enter(member, other, {}, v7()),
      enter(member, other, {}, v7()),
    ]);
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
    expect(await count(member.id)).toBe(4);
  });

  test("another number of good rows than was looked at enters nothing", async () => {
    const member = await buildMember(base.db);
    const done = await enter(member, list(towel("Indigo")), { expected: 2 });
    expect(done).toMatchObject({ ok: false, problem: { code: "changed-meanwhile" } });
    expect(await count(member.id)).toBe(0);
  });

  test("nobody enters for somebody else, and nothing is learnt by trying", async () => {
    const member = await buildMember(base.db);
    const other = await buildMember(base.db);
    const given = { memberId: other.id };
    const done = await enter(member, list(towel("Indigo")), given);
    expect(done).toMatchObject({ ok: false, problem: { code: "not-allowed" } });
    const desk = await buildMember(base.db, ["desk"]);
    expect((await enter(desk, list(towel("Indigo")), given)).ok).toBe(true);
    expect(await count(other.id)).toBe(1);
  });

  test("without the tick nothing is entered", async () => {
    const member = await buildMember(base.db);
    const done = await enter(member, list(towel("Indigo")), { agreementVersion: undefined });
    expect(done.ok ? [] : done.problem.errors.map(({ field }) => field)).toEqual([
      "agreementVersion",
    ]);
    expect(await count(member.id)).toBe(0);
  });
});
