import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Transaction } from "../../src/database/client.ts";
import { perform } from "../../src/database/perform.ts";
import { ok, problem, refuse } from "../../src/rules/problem.ts";
import { buildMember, deedOf } from "../support/build.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let member: Awaited<ReturnType<typeof buildMember>>;
beforeAll(async () => {
  base = await freshDatabase();
  member = await buildMember(base.db, ["chair"]);
});
afterAll(() => base.drop());

const addKind = (code: string) => async (tx: Transaction) => {
  const kind = await tx.kind.create({ data: { code, name: code, position: 1 } });
  return ok({ value: { id: kind.id }, subjectId: kind.id });
};
const kinds = (code: string) => base.db.kind.count({ where: { code } });

describe("a deed", () => {
  test("leaves its audit row in the same transaction", async () => {
    const done = await perform(deedOf(base.db, member), "add-kind", {}, addKind("one"));
    expect(done.ok).toBe(true);
    const audit = await base.db.audit.findFirst({ where: { deed: "add-kind" } });
    expect(audit).toMatchObject({ byId: member.id, requestId: "test" });
  });

  test("that is refused keeps nothing, not even its first rows", async () => {
    const refused = await perform(deedOf(base.db, member), "add-kind", {}, async (tx) => {
      await tx.kind.create({ data: { code: "half", name: "half", position: 1 } });
      return refuse("limit-reached", "Enough.");
    });
    expect(refused).toMatchObject({ ok: false, problem: { code: "limit-reached", status: 409 } });
    expect(await kinds("half")).toBe(0);
  });

  test("that a constraint refuses is told in the words given for it", async () => {
    const words = { kind_code_key: () => problem("already-done", "There is such a kind.") };
    await perform(deedOf(base.db, member), "add-kind", {}, addKind("twice"), words);
    const again = await perform(deedOf(base.db, member), "add-kind", {}, addKind("twice"), words);
    expect(again).toMatchObject({ ok: false, problem: { code: "already-done" } });
  });

  test("that breaks a rule nobody foresaw throws", async () => {
    await expect(
      perform(deedOf(base.db, member), "add-kind", {}, addKind("twice")),
    ).rejects.toThrow();
  });
});

describe("a key", () => {
  test("answers the same thing again without doing it again", async () => {
    const deed = deedOf(base.db, member, "key-one-1");
    const first = await perform(deed, "add-kind", { code: "k1" }, addKind("k1"));
    const second = await perform(deed, "add-kind", { code: "k1" }, addKind("k1"));
    expect(second).toEqual(first);
    expect(await kinds("k1")).toBe(1);
  });

  test("with other content is refused and what came first is kept", async () => {
    const deed = deedOf(base.db, member, "key-two-2");
    await perform(deed, "add-kind", { code: "k2" }, addKind("k2"));
    const other = await perform(deed, "add-kind", { code: "k3" }, addKind("k3"));
    expect(other).toMatchObject({ ok: false, problem: { code: "key-reused", status: 422 } });
    expect(await kinds("k3")).toBe(0);
  });

  test("of another person is another key", async () => {
    const other = await buildMember(base.db);
    await perform(deedOf(base.db, member, "key-shared"), "add-kind", {}, addKind("k4"));
    const theirs = await perform(
      deedOf(base.db, other, "key-shared"),
      "add-kind",
      {},
      addKind("k5"),
    );
    expect(theirs.ok).toBe(true);
    expect(await kinds("k5")).toBe(1);
  });

  test("sent fifty times at once does the deed once", async () => {
    const deed = deedOf(base.db, member, "key-fifty");
    const all = await Promise.all(
      Array.from({ length: 50 }, () => perform(deed, "add-kind", { code: "k6" }, addKind("k6"))),
    );
    expect(await kinds("k6")).toBe(1);
    const done = all.filter((result) => result.ok);
    expect(new Set(done.map((result) => JSON.stringify(result))).size).toBe(1);
    // Whoever could not get a connection in time is told to send it again; nobody is told "no".
    const rest = all.filter((result) => !result.ok);
    expect(rest.every((result) => !result.ok && result.problem.code === "outcome-unknown")).toBe(
      true,
    );
  });
});

describe("two that get in each other's way", () => {
  test("are run again until both are done", async () => {
    const [a, b] = await Promise.all(
      ["d1", "d2"].map((code) => base.db.kind.create({ data: { code, name: code, position: 0 } })),
    );
    const bump = (first: string, second: string) =>
      perform(deedOf(base.db, member), "bump", {}, async (tx) => {
        await tx.kind.update({ where: { id: first }, data: { position: { increment: 1 } } });
        await tx.$queryRaw`SELECT 1 FROM pg_sleep(0.2)`;
        await tx.kind.update({ where: { id: second }, data: { position: { increment: 1 } } });
        return ok({ value: {}, subjectId: first });
      });
    const [x, y] = [a?.id as string, b?.id as string];
    const results = await Promise.all([bump(x, y), bump(y, x)]);
    expect(results.map((result) => result.ok)).toEqual([true, true]);
    const after = await base.db.kind.findMany({ where: { id: { in: [x, y] } } });
    expect(after.map((kind) => kind.position)).toEqual([2, 2]);
  });
});
