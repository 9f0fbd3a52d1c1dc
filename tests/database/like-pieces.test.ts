import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { voidReceipt } from "../../src/actions/void-receipt.ts";
import type { Transaction } from "../../src/database/client.ts";
import { type LikePieces, likePieces } from "../../src/database/like-pieces.ts";
import { buildMember, buildSale, deedOf } from "../support/build.ts";
import { moveTo } from "../support/build-items.ts";
import { done, giveBack, sell } from "../support/build-settlement.ts";
import { buildHall, buildPieces, type PieceToBuild } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
let asker: Awaited<ReturnType<typeof buildMember>>;
let others: (typeof asker)[];
let kind: { id: string; code: string };
let kinds = 0;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db, 1, 100_000);
  asker = await buildMember(base.db);
  others = [];
  for (let index = 0; index < 5; index += 1) others.push(await buildMember(base.db));
});
afterAll(() => base.drop());
beforeEach(async () => {
  kinds += 1;
  const data = { code: `kind-${kinds}`, name: `Kind ${kinds}`, position: 100 + kinds };
  kind = await base.db.kind.create({ data });
  await moveTo(base.db, hall.sale, "selling");
});

/** Pieces of the test's kind, sold together on one receipt, which this names. */
async function sold(member: typeof asker, prices: (number | PieceToBuild)[], more: object = {}) {
  const wanted = prices.map((one) => (typeof one === "number" ? { price: one } : one));
  const pieces = await buildPieces(base.db, hall.sale, member, wanted);
  const ids = pieces.map(({ id }) => id);
  await base.db.item.updateMany({ where: { id: { in: ids } }, data: { kindId: kind.id, ...more } });
  const lines = pieces.map((piece, index) => ({ piece, quantity: wanted[index]!.quantity ?? 1 }));
  return sell(base.db, hall, lines);
}

/** Writes what no deed of ours would write to goods that are checked in. */
const unguarded = (work: (tx: Transaction) => Promise<unknown>) =>
  base.db.$transaction(async (tx) => {
    await tx.$executeRaw`SET LOCAL session_replication_role = replica`;
    await work(tx);
  });

async function told(more: Partial<LikePieces> = {}, day = "2026-12-10", who = asker) {
  await moveTo(base.db, hall.sale, "closed");
  const asked = { kind: kind.code, piecesInSet: 1, ...more };
  return likePieces(base.db, who.id, asked, { unit: 100, day });
}

describe("a pool is five pieces of three members", () => {
  test("five of three are told: the middle and the middle half, in whole units", async () => {
    await sold(others[0]!, [4_020, 6_000]);
    await sold(others[1]!, [4_550, 7_090]);
    await sold(others[2]!, [5_030]);
    // In order 40.20, 45.50, 50.30, 60.00, 70.90.
    expect(await told()).toEqual({
      ...{ alike: "kind", pieces: 5, low: 4_600, middle: 5_000, high: 6_000 },
    });
  });

  test("the dearest and the cheapest piece change nothing", async () => {
    await sold(others[0]!, [100, 6_000]);
    await sold(others[1]!, [4_550, 900_000]);
    await sold(others[2]!, [5_030]);
    expect(await told()).toMatchObject({ low: 4_600, middle: 5_000, high: 6_000 });
  });

  test("a stack counts every piece", async () => {
    await sold(others[0]!, [{ price: 1_000, quantity: 3 }]);
    await sold(others[1]!, [2_000]);
    await sold(others[2]!, [3_000]);
    expect(await told()).toMatchObject({ pieces: 5, middle: 1_000, high: 2_000 });
  });

  test.each([
    ["five of two", [3, 2]],
    ["four of four", [1, 1, 1, 1]],
    ["six of one", [6]],
  ])("%s are not told", async (_what, counts) => {
    for (const [index, count] of counts.entries())
      await sold(others[index]!, Array(count).fill(4_000));
    expect(await told()).toBeNull();
  });

  test("a kind that nobody sold has nothing to tell", async () => {
    expect(await told()).toBeNull();
    expect(await told({ kind: "no such kind" })).toBeNull();
  });
});

describe("the pieces of whoever asks", () => {
  test("do not help to reach a pool, since they could be taken off it again", async () => {
    await sold(others[0]!, [4_000, 4_000]);
    await sold(others[1]!, [5_000, 5_000]);
    await sold(asker, [3_000, 3_000, 3_000]);
    expect(await told()).toBeNull();
    // Whoever has none there may know: to them it is seven pieces of three members.
    expect(await told({}, "2026-12-10", others[4])).toMatchObject({ pieces: 7 });
    await moveTo(base.db, hall.sale, "selling");
    await sold(others[2]!, [6_000]);
    expect(await told()).toMatchObject({ pieces: 8 });
  });

  test("do not replace the fifth piece of another", async () => {
    await sold(others[0]!, [4_000, 4_000]);
    await sold(others[1]!, [5_000]);
    await sold(others[2]!, [6_000]);
    await sold(asker, [3_000]);
    expect(await told()).toBeNull();
  });
});

describe("what does not count", () => {
  const five = async () => {
    await sold(others[0]!, [4_000, 4_000]);
    await sold(others[1]!, [5_000, 5_000]);
    return sold(others[2]!, [6_000]);
  };

  test("a piece that came back, or whose receipt was voided", async () => {
    await giveBack(base.db, hall, await five());
    expect(await told()).toBeNull();
    await moveTo(base.db, hall.sale, "selling");
    const receiptId = await sold(others[2]!, [7_000]);
    done(await voidReceipt(deedOf(base.db, hall.cashier), { receiptId, reason: "Twice" }));
    expect(await told()).toBeNull();
    await moveTo(base.db, hall.sale, "selling");
    await sold(others[2]!, [7_000]);
    expect(await told()).toMatchObject({ pieces: 5, high: 5_000 });
  });

  test("one of a stack that came back", async () => {
    await sold(others[0]!, [4_000, 4_000]);
    await sold(others[1]!, [5_000]);
    await giveBack(base.db, hall, await sold(others[2]!, [{ price: 6_000, quantity: 2 }]));
    expect(await told()).toBeNull();
  });

  test("gifts to the guild, sets of another size, and pieces nobody knows the owner of", async () => {
    await sold(others[0]!, [4_000, 4_000]);
    await sold(others[1]!, [5_000, 5_000]);
    await sold(others[2]!, [{ price: 6_000, donated: true }]);
    const set = await sold(others[2]!, [6_000]);
    await unguarded(async (tx) => {
      const { itemId } = await tx.receiptLine.findFirstOrThrow({ where: { receiptId: set } });
      await tx.item.update({ where: { id: itemId! }, data: { piecesInSet: 4 } });
    });
    expect(await told()).toBeNull();
    await moveTo(base.db, hall.sale, "selling");
    const receiptId = await sold(others[2]!, [6_000]);
    await unguarded((tx) =>
      tx.receiptLine.updateMany({
        where: { receiptId },
        data: { suspended: true },
      }),
    );
    expect(await told()).toBeNull();
  });

  test("a sale that is not settled yet, and one of more than five years ago", async () => {
    await five();
    await moveTo(base.db, hall.sale, "settling");
    const asked = { kind: kind.code, piecesInSet: 1 };
    const now = { unit: 100, day: "2026-12-10" };
    expect(await likePieces(base.db, asker.id, asked, now)).toBeNull();
    expect(await told()).toMatchObject({ pieces: 5 });
    expect(await told({}, "2031-11-28")).toMatchObject({ pieces: 5 });
    expect(await told({}, "2031-11-29")).toBeNull();
  });
});

describe("narrowing", () => {
  const wool = {
    fibres: [
      { fibre: "wool", percent: 60 },
      { fibre: "silk", percent: 40 },
    ],
  };
  const linen = { fibres: [{ fibre: "linen", percent: 100 }] };
  const long = { size: "20 x 180 cm" };
  const wide = { size: "150 x 200 cm" };
  const spread = async (price: number, more: object, counts = [2, 2, 1]) => {
    for (const [index, count] of counts.entries())
      await sold(others[index]!, Array(count).fill(price), more);
  };

  test("to the chief fibre, when what is left over is a pool too", async () => {
    await spread(4_000, wool);
    await spread(9_000, linen);
    expect(await told({ fibre: "wool" })).toMatchObject({
      alike: "fibre",
      pieces: 5,
      middle: 4_000,
    });
    expect(await told({ fibre: "silk" })).toMatchObject({ alike: "kind", pieces: 10 });
  });

  test("not when a few pieces lie between the two, which would tell of them", async () => {
    await spread(4_000, wool);
    await sold(others[3]!, [9_000], linen);
    expect(await told({ fibre: "wool" })).toMatchObject({ alike: "kind", pieces: 6 });
    // The own piece between them is no secret.
    await moveTo(base.db, hall.sale, "selling");
    expect(await told({ fibre: "wool" }, "2026-12-10", others[3])).toMatchObject({
      alike: "fibre",
    });
  });

  test("to about the same size, in whichever unit it was typed", async () => {
    await spread(4_000, long);
    await spread(9_000, wide);
    for (const size of ["8 x 72 in", '8" by 70"', "200 × 1800 mm", "21 x 179 cm"])
      expect(await told({ size })).toMatchObject({ alike: "size", middle: 4_000 });
    for (const size of ["20 x 180", "large", "", "5000000000 x 2 cm"])
      expect(await told({ size })).toMatchObject({ alike: "kind", pieces: 10 });
  });

  test("to both only when all four parts are pools", async () => {
    await spread(4_000, { ...wool, ...long });
    await spread(5_000, { ...wool, ...wide });
    await spread(6_000, { ...linen, ...long });
    const both = { fibre: "wool", size: "20 x 180 cm" };
    expect(await told(both)).toMatchObject({ alike: "fibre-and-size", middle: 4_000 });
    await moveTo(base.db, hall.sale, "selling");
    await sold(others[0]!, [7_000], { ...linen, ...wide });
    expect(await told(both)).toMatchObject({ alike: "size", pieces: 10 });
  });
});

test("no answer holds the cheapest or dearest price, or a member", async () => {
  await buildSale(base.db);
  await sold(others[0]!, [1_111, 4_000]);
  await sold(others[1]!, [5_000, 5_000]);
  await sold(others[2]!, [98_765]);
  const text = JSON.stringify(await told());
  expect(text).not.toMatch(/1111|98765|1100|98800/);
  for (const { id, name } of others) expect(text).not.toMatch(new RegExp(`${id}|${name}`));
});
