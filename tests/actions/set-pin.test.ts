import { webcrypto } from "node:crypto";
import { afterAll, beforeAll, expect, test } from "vitest";
import { clearPin, setPin } from "../../src/actions/set-pin.ts";
import { readPinHash } from "../../src/rules/pin.ts";
import { buildMember, deedOf } from "../support/build.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
beforeAll(async () => {
  base = await freshDatabase();
});
afterAll(() => base.drop());

const hashOf = async ({ id }: { id: string }) =>
  (await base.db.member.findUniqueOrThrow({ where: { id } })).pinHash;

/** What a till does with WebCrypto, which knows nothing of how the server hashed. */
async function fitsOnTill(pin: string, stored: string): Promise<boolean> {
  const { rounds, salt, key } = readPinHash(stored)!;
  const secret = new TextEncoder().encode(pin);
  const from = await webcrypto.subtle.importKey("raw", secret, "PBKDF2", false, ["deriveBits"]);
  const how = { name: "PBKDF2", hash: "SHA-256", iterations: rounds };
  const bytes = Buffer.from(salt, "base64url");
  const bits = await webcrypto.subtle.deriveBits({ ...how, salt: bytes }, from, 256);
  return Buffer.from(bits).toString("base64url") === key;
}

test("a cashier's PIN fits on a till, and no other does", async () => {
  const cashier = await buildMember(base.db, ["cashier"]);
  expect(await setPin(deedOf(base.db, cashier), "4071")).toMatchObject({ ok: true });
  const stored = (await hashOf(cashier)) ?? "";
  expect(readPinHash(stored)?.rounds).toBe(210_000);
  expect(await fitsOnTill("4071", stored)).toBe(true);
  expect(await fitsOnTill("4072", stored)).toBe(false);
  const audits = await base.db.audit.findMany({ where: { deed: "set-pin" } });
  expect(JSON.stringify(audits.map(({ detail }) => detail))).not.toContain("4071");
});

test("the same PIN is stored differently for each, so that equal ones do not show", async () => {
  const [one, two] = [
    await buildMember(base.db, ["chair"]),
    await buildMember(base.db, ["cashier"]),
  ];
  const both = await Promise.all([one, two].map((who) => setPin(deedOf(base.db, who), "90417")));
  expect(both.map(({ ok }) => ok)).toEqual([true, true]);
  expect(await hashOf(one)).not.toBe(await hashOf(two));
});

test("only those who sell have one, and no weak one", async () => {
  const weaver = await buildMember(base.db, ["member", "desk", "treasurer"]);
  const cashier = await buildMember(base.db, ["cashier"]);
  expect(await setPin(deedOf(base.db, weaver), "4071")).toMatchObject({
    problem: { code: "not-allowed" },
  });
  for (const pin of ["1234", "0000", "12", "12345678", "abcd", ""])
    expect(await setPin(deedOf(base.db, cashier), pin)).toMatchObject({
      problem: { code: "invalid-input", errors: [{ field: "pin" }] },
    });
  expect([await hashOf(weaver), await hashOf(cashier)]).toEqual([null, null]);
});

test("the chair takes a PIN away, once", async () => {
  const cashier = await buildMember(base.db, ["cashier"]);
  const chair = deedOf(base.db, await buildMember(base.db, ["chair"]));
  await setPin(deedOf(base.db, cashier), "4071");
  const twins = await Promise.all([clearPin(chair, cashier.id), clearPin(chair, cashier.id)]);
  expect(twins.map(({ ok }) => ok).sort()).toEqual([false, true]);
  expect(await hashOf(cashier)).toBeNull();
  expect(await base.db.audit.count({ where: { deed: "clear-pin", subjectId: cashier.id } })).toBe(
    1,
  );
});
