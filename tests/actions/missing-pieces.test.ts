import { v7 } from "uuid";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { declareFound, declareLost, leaveWithGuild } from "../../src/actions/missing-pieces.ts";
import { pickUpItem } from "../../src/actions/pick-up-item.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { findItem } from "../../src/database/items.ts";
import { countLeft, listLeft } from "../../src/database/left-pieces.ts";
import { showTag } from "../../src/rules/tag-number.ts";
import { buildMember, buildSale, deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { done } from "../support/build-settlement.ts";
import { type BuiltPiece, buildHall, buildPieces } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
let desk: Awaited<ReturnType<typeof buildMember>>;
let stack: BuiltPiece;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 1);
  desk = await buildMember(base.db, ["desk"]);
});
beforeEach(async () => {
  await moveTo(base.db, hall.sale, "settling");
  [stack] = (await buildPieces(base.db, hall.sale, hall.weaver, [
    { price: 1_000, quantity: 5 },
  ])) as [BuiltPiece];
});
afterAll(async () => {
  const books = await checkBooks(base.db);
  expect(books.checks.filter(({ broken }) => broken)).toEqual([]);
  expect(books.unaccounted.pieces).toBe(0);
  await base.drop();
});

type Deed = typeof declareLost;
const act = (deed: Deed, pieces: { tag: string; quantity?: number }[], key?: string) =>
  deed(deedOf(base.db, desk, key), { saleId: hall.sale.id, pieces, reason: "Not on any rack" });
const codeOf = (result: { ok: boolean; problem?: { code: string } }) =>
  result.ok ? "ok" : result.problem?.code;
const places = async (id = stack.id) => (await findItem(base.db, id))?.pieces;

describe("declaring pieces missing", () => {
  test("takes a part, then the rest, and keeps the reason with the person", async () => {
    expect(codeOf(await act(declareLost, [{ tag: showTag(stack.tag), quantity: 2 }]))).toBe("ok");
    expect(await places()).toMatchObject({ entered: 5, onFloor: 3, lost: 2 });
    expect(codeOf(await act(declareLost, [{ tag: stack.tag }]))).toBe("ok");
    expect(await places()).toMatchObject({ entered: 5, onFloor: 0, lost: 5 });
    const moves = await base.db.movement.findMany({ where: { itemId: stack.id, kind: "lost" } });
    expect(moves).toMatchObject([
      { quantity: 2, reason: "Not on any rack", byId: desk.id },
      { quantity: 3 },
    ]);
  });

  test("found pieces are on the floor again and go home from there, not before", async () => {
    done(await act(declareLost, [{ tag: stack.tag }]));
    const home = () =>
      pickUpItem(deedOf(base.db, desk), { saleId: hall.sale.id, tag: stack.tag, reason: "" });
    const early = await home();
    expect(early).toMatchObject({ ok: false, problem: { code: "not-on-floor" } });
    expect(!early.ok && early.problem.detail).toContain("noted as missing");
    done(await act(declareFound, [{ tag: stack.tag, quantity: 1 }]));
    expect(done(await home()).quantity).toBe(1);
    expect(await places()).toMatchObject({ withMember: 1, onFloor: 0, lost: 4 });
  });

  test("pieces left with the guild stay the guild's", async () => {
    done(await act(leaveWithGuild, [{ tag: stack.tag, quantity: 4 }]));
    expect(await places()).toMatchObject({ onFloor: 1, withGuild: 4 });
    done(await act(leaveWithGuild, [{ tag: stack.tag }]));
    const again = await act(leaveWithGuild, [{ tag: stack.tag }]);
    expect(!again.ok && again.problem.detail).toContain("was left with the guild");
  });

  test("the tills hear of it", async () => {
    const before = await base.db.tillChange.findFirst({ where: { itemId: stack.id } });
    done(await act(declareLost, [{ tag: stack.tag }]));
    const after = await base.db.tillChange.findMany({ where: { itemId: stack.id } });
    expect(after.some(({ xid }) => xid > before!.xid)).toBe(true);
  });

  test("the same key twice is one deed with one answer", async () => {
    const key = v7();
    const once = await act(declareLost, [{ tag: stack.tag, quantity: 2 }], key);
    expect(await act(declareLost, [{ tag: stack.tag, quantity: 2 }], key)).toEqual(once);
    expect(await places()).toMatchObject({ onFloor: 3, lost: 2 });
  });

  test.each([
    ["lost", declareLost],
    ["left with the guild", leaveWithGuild],
    ["found", declareFound],
  ])("eight at once on the last piece: one of them is %s", async (_word, deed) => {
    const [last] = (await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 900 }])) as [
      BuiltPiece,
    ];
    if (deed === declareFound) done(await act(declareLost, [{ tag: last.tag }]));
    const all = await Promise.all(Array.from({ length: 8 }, () => act(deed, [{ tag: last.tag }])));
    expect(all.map(codeOf).sort()).toEqual([...Array(7).fill("already-done"), "ok"]);
    const { entered, withMember, onFloor, withBuyer, withGuild, lost } = (await places(last.id))!;
    expect(withMember + onFloor + withBuyer + withGuild + lost).toBe(entered);
    expect(entered).toBe(1);
  });

  test("home, missing and the guild's at once: exactly one of them is recorded", async () => {
    const [last] = (await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 900 }])) as [
      BuiltPiece,
    ];
    const three = await Promise.all([
      act(declareLost, [{ tag: last.tag }]),
      act(leaveWithGuild, [{ tag: last.tag }]),
      pickUpItem(deedOf(base.db, desk), { saleId: hall.sale.id, tag: last.tag, reason: "" }),
    ]);
    expect(three.filter(({ ok }) => ok)).toHaveLength(1);
  });
});

describe("what is refused", () => {
  test.each(["selling", "closed"])("at the stage %s nothing is recorded", async (stage) => {
    await moveTo(base.db, hall.sale, stage);
    for (const deed of [declareLost, declareFound, leaveWithGuild])
      expect(codeOf(await act(deed, [{ tag: stack.tag }]))).toBe("stage-closed");
    expect(await places()).toMatchObject({ onFloor: 5 });
  });

  test("more than there is refuses all of it, at its field", async () => {
    const [other] = (await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 700 }])) as [
      BuiltPiece,
    ];
    const refused = await act(declareLost, [{ tag: other.tag }, { tag: stack.tag, quantity: 6 }]);
    expect(!refused.ok && refused.problem.errors).toMatchObject([{ field: "pieces.1.quantity" }]);
    expect(await places(other.id)).toMatchObject({ onFloor: 1 });
  });

  test("a tag twice, a wrong one, and one of another sale", async () => {
    const twice = await act(declareLost, [{ tag: stack.tag }, { tag: showTag(stack.tag) }]);
    expect(!twice.ok && twice.problem.errors[0]?.field).toBe("pieces.1.tag");
    expect(codeOf(await act(declareLost, [{ tag: "10000199" }]))).toBe("wrong-check-digits");
    const elsewhere = await buildSale(base.db, { stage: "settling" });
    const [theirs] = (await buildPieces(base.db, elsewhere, hall.weaver, [{ price: 700 }])) as [
      BuiltPiece,
    ];
    const given = { saleId: hall.sale.id, pieces: [{ tag: theirs.tag }], reason: "Gone" };
    const refused = await declareLost(deedOf(base.db, desk), given);
    expect(!refused.ok && refused.problem.detail).toContain("No piece of this sale");
    expect(await places(theirs.id)).toMatchObject({ onFloor: 1 });
  });

  test("what is gone already is named, the rest is recorded", async () => {
    const [gone] = (await buildPieces(base.db, hall.sale, hall.weaver, [{ price: 700 }])) as [
      BuiltPiece,
    ];
    done(await act(declareLost, [{ tag: gone.tag }]));
    const tally = done(await act(declareLost, [{ tag: gone.tag }, { tag: stack.tag }]));
    expect(tally.done).toMatchObject([{ tag: stack.tag, quantity: 5 }]);
    expect(tally.refused).toMatchObject([{ tag: gone.tag, code: "not-on-floor" }]);
  });
});

describe("the list of what is left", () => {
  test("is found by member, words and tag, and pages without a gap", async () => {
    const other = await buildMember(base.db, ["member"], { name: "Ida Reed" });
    await buildPieces(base.db, hall.sale, other, [{ price: 500 }, { price: 600 }, { price: 700 }]);
    const ask = async (q: string, after?: string) =>
      listLeft(base.db, hall.sale.id, { place: "floor", q, after, limit: 2 });
    const first = await ask("ida");
    const second = await ask("ida", first.next ?? "");
    expect([first.items.length, second.items.length, second.next]).toEqual([2, 1, null]);
    expect((await ask(String(other.number))).items).toHaveLength(2);
    expect((await ask(showTag(first.items[0]!.tag))).items).toMatchObject([
      { tag: first.items[0]!.tag, memberName: "Ida Reed" },
    ]);
    expect((await ask("100%")).items).toEqual([]);
    const counts = await countLeft(base.db, hall.sale.id);
    expect(counts.floor).toBeGreaterThanOrEqual(3);
  });
});
