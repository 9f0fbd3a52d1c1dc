import { v7 } from "uuid";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type AskPrint, askPrint } from "../../src/actions/ask-print.ts";
import { cancelPrint } from "../../src/actions/cancel-print.ts";
import { editItem } from "../../src/actions/edit-item.ts";
import { beatPrintJob, endPrintJob, takePrintJob } from "../../src/database/print-jobs.ts";
import { hasStaleTag, printCounts } from "../../src/database/tag-prints.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { early, enter, scarf } from "../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let member: Awaited<ReturnType<typeof buildMember>>;
let desk: Awaited<ReturnType<typeof buildMember>>;
let sale: { id: string };

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  desk = await buildMember(base.db, ["desk"]);
});
afterAll(() => base.drop());
beforeEach(async () => {
  sale = await buildSale(base.db);
  await base.db.printJob.deleteMany({
    where: { state: { in: ["waiting"] }, prints: { none: {} } },
  });
});

const asked = (more: Partial<AskPrint> = {}): AskPrint => ({
  saleId: sale.id,
  memberId: member.id,
  what: "tag",
  which: "new",
  stock: "letter-10",
  paper: { each: true },
  about: "",
  ...more,
});
const counts = () =>
  printCounts(base.db, "tag", { saleId: sale.id, memberId: member.id, each: true });

describe("what is printed", () => {
  test("counts as printed at once, and again only when it says something else", async () => {
    const { id } = await enter(base.db, member, sale);
    expect(await counts()).toEqual({ new: 1, changed: 0, all: 1 });
    expect((await askPrint(deedOf(base.db, member), asked())).ok).toBe(true);
    expect(await counts()).toEqual({ new: 0, changed: 0, all: 1 });
    const again = await askPrint(deedOf(base.db, member), asked());
    expect(again).toMatchObject({ ok: false, problem: { code: "already-done" } });
    expect(await hasStaleTag(base.db, { id, saleId: sale.id })).toBe(false);
    const change = { itemId: id, version: 1, item: scarf({ price: 5_000 }) };
    expect((await editItem(deedOf(base.db, member), change, early)).ok).toBe(true);
    expect(await hasStaleTag(base.db, { id, saleId: sale.id })).toBe(true);
    expect(await counts()).toEqual({ new: 0, changed: 1, all: 1 });
    const changed = await askPrint(deedOf(base.db, member), asked({ which: "changed" }));
    expect(changed.ok).toBe(true);
    const rows = await base.db.tagPrint.findMany({ where: { itemId: id }, orderBy: { id: "asc" } });
    expect(rows.map(({ again, stock }) => [again, stock])).toEqual([
      [false, "letter-10"],
      [true, "letter-10"],
    ]);
  });

  test("words that only the care strip lacks leave the strip as it is", async () => {
    const { id } = await enter(base.db, member, sale);
    await askPrint(deedOf(base.db, member), asked({ what: "care-strip", stock: "care-strip" }));
    const change = { itemId: id, version: 1, item: scarf({ price: 5_000 }) };
    await editItem(deedOf(base.db, member), change, early);
    const choice = { saleId: sale.id, memberId: member.id, each: true };
    expect(await printCounts(base.db, "care-strip", choice)).toEqual({
      new: 0,
      changed: 0,
      all: 1,
    });
    expect((await counts()).new).toBe(1);
  });

  test("another maker's name makes every tag out of date", async () => {
    await enter(base.db, member, sale);
    await askPrint(deedOf(base.db, member), asked());
    await base.db.member.update({
      where: { id: member.id },
      data: { businessName: "Thistle Looms" },
    });
    expect((await counts()).changed).toBe(1);
    await base.db.member.update({ where: { id: member.id }, data: { businessName: "" } });
    expect((await counts()).changed).toBe(0);
  });

  test("two at once do not take the same tag; the same key asks once", async () => {
    await enter(base.db, member, sale);
    await enter(base.db, member, sale);
    const both = await Promise.all([
      askPrint(deedOf(base.db, member), asked()),
      askPrint(deedOf(base.db, desk), asked()),
    ]);
    expect(both.filter(({ ok }) => ok)).toHaveLength(1);
    const items = { item: { saleId: sale.id } };
    expect(await base.db.tagPrint.count({ where: items })).toBe(2);
    const key = v7();
    const same = await Promise.all([
      askPrint(deedOf(base.db, member, key), asked({ which: "all" })),
      askPrint(deedOf(base.db, member, key), asked({ which: "all" })),
    ]);
    expect(same[0]).toEqual(same[1]);
    expect(await base.db.tagPrint.count({ where: items })).toBe(4);
    expect(await base.db.tagPrint.count({ where: { ...items, again: true } })).toBe(2);
  });

  test("a member never prints for others", async () => {
    const refused = await askPrint(deedOf(base.db, member), asked({ memberId: undefined }));
    expect(refused).toMatchObject({ ok: false, problem: { code: "not-allowed" } });
    const theirs = await askPrint(deedOf(base.db, member), asked({ memberId: desk.id }));
    expect(theirs).toMatchObject({ ok: false, problem: { code: "not-allowed" } });
  });

  test("what is not lawful is not printed", async () => {
    const { id, tag } = await enter(base.db, member, sale);
    const fibres = [{ fibre: "wool", percent: 100, brand: "Silkena silk" }];
    await base.db.item.update({ where: { id }, data: { fibres } });
    const refused = await askPrint(deedOf(base.db, member), asked());
    expect(refused).toMatchObject({ ok: false, problem: { code: "invalid-input" } });
    expect(JSON.stringify(refused)).toContain(tag.slice(0, 3));
  });
});

describe("a print in the queue", () => {
  const ask = async () => {
    await enter(base.db, member, sale);
    const done = await askPrint(deedOf(base.db, member), asked());
    if (!done.ok) throw new Error(done.problem.detail);
    return done.value;
  };
  const empty = async () => {
    for (let job = await takePrintJob(base.db); job; job = await takePrintJob(base.db))
      await endPrintJob(base.db, job.id, { state: "ready" });
  };

  test("is cancelled once, and its tags count as not printed again", async () => {
    const { id } = await ask();
    const [one, two] = await Promise.all([
      cancelPrint(deedOf(base.db, member), { id }),
      cancelPrint(deedOf(base.db, desk), { id }),
    ]);
    expect([one.ok, two.ok].sort()).toEqual([false, true]);
    expect((await counts()).new).toBe(1);
    expect(await endPrintJob(base.db, id, { state: "ready" })).toBe(false);
    await expect(
      base.db.printJob.update({ where: { id }, data: { state: "ready" } }),
    ).rejects.toThrow();
  });

  test("is not another member's to cancel", async () => {
    const { id } = await ask();
    const other = await buildMember(base.db);
    const refused = await cancelPrint(deedOf(base.db, other), { id });
    expect(refused).toMatchObject({ ok: false, problem: { code: "not-found" } });
  });

  test("is taken by one worker; one that falls silent is taken up again", async () => {
    await empty();
    const { id } = await ask();
    const both = await Promise.all([takePrintJob(base.db), takePrintJob(base.db)]);
    expect(both.map((job) => job?.id).filter(Boolean)).toEqual([id]);
    expect(await beatPrintJob(base.db, id, 1)).toBe(true);
    expect(await takePrintJob(base.db)).toBeNull();
    await base.db.printJob.update({
      where: { id },
      data: { beatAt: new Date(Date.now() - 120_000) },
    });
    expect((await takePrintJob(base.db))?.id).toBe(id);
  });

  test("gives its tags back when it fails, with a reason", async () => {
    await empty();
    const { id } = await ask();
    await takePrintJob(base.db);
    await endPrintJob(base.db, id, { state: "failed", problem: "No room." });
    expect((await counts()).new).toBe(1);
  });

  test("leaves a record that nobody can change", async () => {
    await ask();
    await expect(base.db.tagPrint.updateMany({ data: { stock: "other" } })).rejects.toThrow();
    await expect(base.db.tagPrint.deleteMany()).rejects.toThrow();
  });
});
