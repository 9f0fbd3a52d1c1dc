import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checkInItem } from "../../src/actions/check-in-item.ts";
import { copyItem } from "../../src/actions/copy-item.ts";
import { editItem } from "../../src/actions/edit-item.ts";
import { putBackItem } from "../../src/actions/put-back-item.ts";
import { withdrawItem } from "../../src/actions/withdraw-item.ts";
import { findItem } from "../../src/database/items.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../support/build.ts";
import { early, enter, late, moveTo, scarf, takeIn } from "../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
type Member = Awaited<ReturnType<typeof buildMember>>;
let member: Member;
let other: Member;
let desk: Member;

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  member = await buildMember(base.db);
  other = await buildMember(base.db);
  desk = await buildMember(base.db, ["desk"]);
});
afterAll(() => base.drop());

const codeOf = (result: { ok: boolean; problem?: { code: string } }) =>
  result.ok ? "ok" : result.problem?.code;

async function entered(more = {}, saleMore = {}) {
  const sale = await buildSale(base.db, saleMore);
  const item = await enter(base.db, member, sale, more);
  return { sale, item };
}

const edit = (who: Member, itemId: string, version: number, more = {}, now = early) =>
  editItem(deedOf(base.db, who), { itemId, version, item: scarf(more) }, now);

describe("changing an item", () => {
  test("words and price change, the tag stays, and more or fewer pieces are moved", async () => {
    const { item } = await entered({ quantity: 2 });
    expect(await edit(member, item.id, 1, { price: 9_900, quantity: 5 })).toEqual({
      ok: true,
      value: { id: item.id, version: 2 },
    });
    expect(codeOf(await edit(member, item.id, 2, { quantity: 1 }))).toBe("ok");
    const now = await findItem(base.db, item.id);
    expect(now).toMatchObject({ tag: item.tag, quantity: 1, version: 3, price: 4_500 });
    expect(now?.pieces).toMatchObject({ entered: 1, withMember: 1 });
    const moves = await base.db.movement.findMany({
      where: { itemId: item.id },
      orderBy: { id: "asc" },
    });
    expect(moves.map(({ kind, quantity }) => [kind, quantity])).toEqual([
      ["entered", 2],
      ["entered", 3],
      ["unentered", 4],
    ]);
  });

  test("an old screen does not overwrite a newer change, even at once", async () => {
    const { item } = await entered();
    const both = await Promise.all([
      edit(member, item.id, 1, { price: 5_000 }),
      edit(desk, item.id, 1, { price: 6_000 }),
    ]);
    expect(both.map(codeOf).sort()).toEqual(["changed-meanwhile", "ok"]);
  });

  test("somebody else's item and an unknown one answer alike; the desk may", async () => {
    const { item } = await entered();
    const foreign = await edit(other, item.id, 1);
    const unknown = await edit(other, member.id, 1);
    expect(foreign).toEqual(unknown);
    expect(codeOf(foreign)).toBe("not-found");
    expect(codeOf(await edit(desk, item.id, 1))).toBe("ok");
  });

  test("after the deadline the desk helps; after check-in nothing changes", async () => {
    const { sale, item } = await entered();
    expect(codeOf(await edit(member, item.id, 1, {}, late))).toBe("stage-closed");
    expect(codeOf(await edit(desk, item.id, 1, {}, late))).toBe("ok");
    await moveTo(base.db, sale, "entries-closed");
    await takeIn(base.db, desk, sale, item.tag);
    expect(codeOf(await edit(desk, item.id, 2, {}, late))).toBe("checked-in");
  });

  test("a change and a check-in at once end in one order or the other", async () => {
    for (let round = 0; round < 10; round += 1) {
      const { sale, item } = await entered({}, { stage: "entries-open" });
      await moveTo(base.db, sale, "entries-closed");
      const [changed, came] = await Promise.all([
        edit(desk, item.id, 1, { quantity: 4 }),
        checkInItem(deedOf(base.db, desk), {
          ...{ saleId: sale.id, tag: item.tag, decision: "accepted", reason: "" },
        }),
      ]);
      expect(came.ok).toBe(true);
      const now = await findItem(base.db, item.id);
      const pieces = changed.ok ? 4 : 1;
      expect(now).toMatchObject({ quantity: pieces, pieces: { onFloor: pieces, withMember: 0 } });
    }
  });

  test("a wrong field is named and nothing changes", async () => {
    const { item } = await entered();
    const refused = await edit(member, item.id, 1, { price: 499 });
    expect(!refused.ok && refused.problem.errors.map(({ field }) => field)).toEqual(["price"]);
    expect(await findItem(base.db, item.id)).toMatchObject({ version: 1, price: 4_500 });
  });
});

describe("withdrawing", () => {
  const withdraw = (who: Member, itemId: string, key?: string) =>
    withdrawItem(deedOf(base.db, who, key), { itemId }, early);

  test("can be undone, and both only once", async () => {
    const { item } = await entered();
    const twice = [
      await withdraw(member, item.id, "withdraw-once"),
      await withdraw(member, item.id, "withdraw-once"),
    ];
    expect(twice[0]).toEqual(twice[1]);
    expect(codeOf(await withdraw(member, item.id))).toBe("already-done");
    expect((await findItem(base.db, item.id))?.state).toBe("withdrawn");
    expect(codeOf(await edit(member, item.id, 2))).toBe("withdrawn");
    const back = () => putBackItem(deedOf(base.db, member), { itemId: item.id });
    expect((await Promise.all([back(), back()])).map(codeOf).sort()).toEqual([
      "already-done",
      "ok",
    ]);
    expect((await findItem(base.db, item.id))?.state).toBe("entered");
  });

  test("putting back respects the limit that was used up meanwhile", async () => {
    const { sale, item } = await entered({}, { itemLimit: 1 });
    await withdraw(member, item.id);
    await enter(base.db, member, sale);
    expect(codeOf(await putBackItem(deedOf(base.db, member), { itemId: item.id }))).toBe(
      "limit-reached",
    );
  });

  test("only one's own, only before check-in, only while the sale runs", async () => {
    const { sale, item } = await entered();
    expect(codeOf(await withdraw(other, item.id))).toBe("not-found");
    await moveTo(base.db, sale, "selling");
    await takeIn(base.db, desk, sale, item.tag);
    expect(codeOf(await withdraw(member, item.id))).toBe("checked-in");
    await moveTo(base.db, sale, "settling");
    expect(codeOf(await withdraw(member, item.id))).toBe("stage-closed");
  });
});

describe("copying", () => {
  test("gives the same item a new tag, also in a later sale", async () => {
    await base.db.sale.updateMany({ data: { stage: "closed" } });
    const { sale, item } = await entered({ colours: "Rust" });
    await moveTo(base.db, sale, "closed");
    const next = await buildSale(base.db, { name: "Spring sale" });
    const copied = await copyItem(
      deedOf(base.db, member),
      { itemId: item.id, agreementVersion: 1 },
      early,
    );
    if (!copied.ok) throw new Error(copied.problem.code);
    expect(copied.value.tag).not.toBe(item.tag);
    expect(await findItem(base.db, copied.value.id)).toMatchObject({
      ...{ saleId: next.id, colours: "Rust", price: 4_500, memberId: member.id },
      pieces: { withMember: 1 },
    });
  });

  test("not somebody else's, and not at a price the new sale does not take", async () => {
    const { item } = await entered();
    const given = { itemId: item.id, agreementVersion: 1 };
    expect(codeOf(await copyItem(deedOf(base.db, other), given, early))).toBe("not-found");
    const dear = await buildSale(base.db, { priceFloor: 10_000n });
    const refused = await copyItem(deedOf(base.db, member), { ...given, saleId: dear.id }, early);
    expect(!refused.ok && refused.problem.errors.map(({ field }) => field)).toEqual(["price"]);
  });
});
