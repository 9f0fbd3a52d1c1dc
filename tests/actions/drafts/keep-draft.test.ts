import { v7 } from "uuid";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { keepDraft } from "../../../src/actions/drafts/keep-draft.ts";
import { enterItem } from "../../../src/actions/enter-item.ts";
import { type DraftInput, mostDrafts } from "../../../src/contract/draft.ts";
import { draftsOf } from "../../../src/database/drafts.ts";
import { buildGuild, buildMember, buildSale, deedOf } from "../../support/build.ts";
import { early, scarf } from "../../support/build-items.ts";
import { freshDatabase, type TestDatabase } from "../../support/database.ts";

let base: TestDatabase;
let member: Awaited<ReturnType<typeof buildMember>>;
let sale: { id: string };

beforeAll(async () => {
  base = await freshDatabase();
  await buildGuild(base.db);
  sale = await buildSale(base.db);
});
afterAll(() => base.drop());
beforeEach(async () => {
  member = await buildMember(base.db);
});

const now = new Date("2026-11-01T12:00:00Z");
const typed = (description: string, more: Partial<DraftInput> = {}): DraftInput => ({
  ...{ form: "one", saleId: sale.id, fields: { description, price: "4" }, version: 0 },
  ...more,
});
const keep = (id: string, given: DraftInput, memberId = member.id) =>
  keepDraft({ db: base.db, memberId, now }, id, given);
const mine = async () =>
  (await draftsOf(base.db, member.id)).map(({ fields, version }) => [fields.description, version]);

test("it is kept as typed and goes on from version to version", async () => {
  const id = v7();
  expect(await keep(id, typed("Scarf, 4."))).toMatchObject({ value: { id, version: 1 } });
  const next = await keep(id, typed("Scarf, 45", { version: 1 }));
  expect(next).toMatchObject({ value: { id, version: 2, beside: null } });
  expect(await mine()).toEqual([["Scarf, 45", 2]]);
});

test("sent again after its answer was lost, it is the same draft", async () => {
  const id = v7();
  await keep(id, typed("One"));
  await keep(id, typed("Two", { version: 1 }));
  const again = await keep(id, typed("Two", { version: 1 }));
  expect(again).toMatchObject({ value: { id, version: 2, beside: null } });
  expect(await mine()).toEqual([["Two", 2]]);
});

test("two devices at one draft: both are kept, and it is told which is the newer", async () => {
  const id = v7();
  const at = (minute: number) => `2026-11-01T11:${minute}:00.000Z`;
  await keep(id, typed("First", { typedAt: at(10) }));
  await keep(id, typed("On the laptop", { version: 1, typedAt: at(30) }));
  const older = await keep(id, typed("On the phone", { version: 1, typedAt: at(20) }));
  expect(older).toMatchObject({
    value: { version: 1, beside: { id, typedAt: at(30), newer: true } },
  });
  expect((await mine()).sort()).toEqual([
    ["On the laptop", 2],
    ["On the phone", 1],
  ]);
  // The phone sends it once more, since it did not hear: no third draft comes of it.
  expect(await keep(id, typed("On the phone", { version: 1, typedAt: at(20) }))).toEqual(older);
  const newer = await keep(id, typed("On the tablet", { version: 1, typedAt: at(40) }));
  expect(newer).toMatchObject({ value: { beside: { id, newer: false } } });
  expect((await mine()).length).toBe(3);
});

test("a clock that runs ahead types nothing later than now", async () => {
  const kept = await keep(v7(), typed("Early", { typedAt: "2031-01-01T00:00:00.000Z" }));
  expect(kept).toMatchObject({ value: { typedAt: now.toISOString() } });
});

test("somebody else's draft, one that is gone and an unknown sale are not found", async () => {
  const id = v7();
  await keep(id, typed("Mine"));
  const other = await buildMember(base.db);
  for (const given of [typed("Theirs"), typed("Theirs", { version: 1 })])
    expect(await keep(id, given, other.id)).toMatchObject({ problem: { code: "not-found" } });
  expect(await keep(v7(), typed("Gone", { version: 3 }))).toMatchObject({
    problem: { code: "not-found" },
  });
  expect(await keep(v7(), typed("Lost", { saleId: v7() }))).toMatchObject({
    problem: { code: "not-found" },
  });
  expect(await mine()).toEqual([["Mine", 1]]);
  expect(await draftsOf(base.db, other.id)).toEqual([]);
});

test("the last place is given once, whoever asks at the same moment", async () => {
  const row = { memberId: member.id, saleId: sale.id, form: "one", typedAt: now };
  await base.db.entryDraft.createMany({
    data: Array.from({ length: mostDrafts - 1 }, (_, n) => ({ id: v7(), fields: { n }, ...row })),
  });
  const all = await Promise.all(["a", "b", "c"].map((words) => keep(v7(), typed(words))));
  expect(all.filter((one) => one.ok).length).toBe(1);
  expect(all.find((one) => !one.ok)).toMatchObject({ problem: { code: "limit-reached" } });
  expect((await mine()).length).toBe(mostDrafts);
});

test("entering takes the draft away in the same transaction, and a refusal leaves it", async () => {
  const id = v7();
  await keep(id, typed("Twill scarf"));
  const enter = (price: number, who = member) =>
    enterItem(
      deedOf(base.db, who),
      {
        ...{ saleId: sale.id, memberId: who.id, item: scarf({ price }) },
        ...{ agreementVersion: 1, draftId: id },
      },
      early,
    );
  expect((await enter(-1)).ok).toBe(false);
  expect((await enter(4_500, await buildMember(base.db))).ok).toBe(true);
  expect((await mine()).length).toBe(1);
  expect((await enter(4_500)).ok).toBe(true);
  expect(await mine()).toEqual([]);
});
