import { createHash } from "node:crypto";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { recordPayout } from "../../src/actions/record-payout.ts";
import { openArchive } from "../../src/actions/restore/open-archive.ts";
import { offerSetUp } from "../../src/actions/set-up-guild.ts";
import { voidPayout } from "../../src/actions/void-payout.ts";
import { checkBooks } from "../../src/database/check-books.ts";
import { listBalances } from "../../src/database/journal.ts";
import { archiveOf, filesIn, manifestIn, restore, textIn, withFiles } from "../support/archive.ts";
import { deedOf } from "../support/build.ts";
import { done } from "../support/build-settlement.ts";
import { buildThreeSales } from "../support/build-three-sales.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";
import { contentOf } from "../support/whole-database.ts";

let home: TestDatabase;
let away: TestDatabase;
let guild: Awaited<ReturnType<typeof buildThreeSales>>;
let zip: Uint8Array;

beforeAll(async () => {
  home = await freshDatabase();
  away = await freshDatabase();
  guild = await buildThreeSales(home.db);
  await payAgain();
  const buyer = { receiptId: guild.receiptId, address: "buyer@example.org" };
  await home.db.receiptMail.create({ data: { id: guild.receiptId, ...buyer } });
  await home.db.member.updateMany({ data: { pinHash: "100$salt$key-of-a-pin" } });
  zip = await archiveOf(home.db, guild.settled.sale.id);
});
afterAll(async () => {
  await home.drop();
  await away.drop();
});

/** A payout that was taken back and made once more: its second try needs the void of the first. */
async function payAgain() {
  const { db } = home;
  const deed = deedOf(db, guild.treasurer);
  const { id: payoutId, statementId } = await db.payout.findFirstOrThrow();
  done(await voidPayout(deed, { payoutId, reason: "Lost in the post" }));
  const paid = { method: "cheque" as const, reference: "2042", paidOn: "2026-11-28" };
  done(await recordPayout(deed, { statementId, ...paid }));
}

const sha256 = (bytes: Uint8Array) => createHash("sha256").update(bytes).digest("hex");

/** An archive whose manifest was made to fit its changed files, as somebody who cheats would. */
function forged(path: string, change: (text: string) => string): Uint8Array {
  const changed = new TextEncoder().encode(change(textIn(zip, path)));
  const manifest = manifestIn(zip);
  const files = manifest.files.map((file) =>
    file.path === path ? { ...file, bytes: changed.length, sha256: sha256(changed) } : file,
  );
  const text = JSON.stringify({ ...manifest, files });
  return withFiles(zip, { [path]: changed, "manifest.json": text });
}

const refusal = async (bad: Uint8Array) => {
  const answer = await restore(away.db, bad);
  if (answer.ok) throw new Error("It was taken back.");
  return answer.problem;
};

describe("an archive", () => {
  test("holds rows, tables, journal and statements, and says what each file is", () => {
    const files = filesIn(zip);
    const manifest = manifestIn(zip);
    expect(manifest).toMatchObject({
      ...{ format: "thrumbook-archive", version: 1, madeAt: "2026-12-01T12:00:00.000Z" },
      ...{ guild: { currency: "USD" }, sale: { name: "Summer sale" } },
    });
    const found = Object.keys(files).filter((path) => path !== "manifest.json");
    expect(manifest.files.map(({ path }) => path)).toEqual(found.sort());
    for (const { path, bytes, sha256: hash } of manifest.files)
      expect({ path, bytes: files[path]?.length, hash: sha256(files[path]!) }).toEqual({
        ...{ path, bytes, hash },
      });
    for (const path of ["rows/posting.json", "csv/items.csv", "csv/members.csv", "sale.journal"])
      expect(found).toContain(path);
    expect(found.filter((path) => path.endsWith(".pdf"))).toHaveLength(2);
  });

  test("has amounts as text, moments in UTC, and the sums of the accounts", async () => {
    const receipts = JSON.parse(textIn(zip, "rows/receipt.json"));
    const stored = await home.db.receipt.findMany();
    expect(receipts).toHaveLength(stored.length);
    expect(manifestIn(zip).files.find(({ path }) => path === "rows/receipt.json")?.rows).toBe(
      stored.length,
    );
    for (const { id, total, made_at } of receipts) {
      const row = stored.find((one) => one.id === id);
      expect([total, made_at]).toEqual([String(row?.total), row?.madeAt.toISOString()]);
    }
    const { accounts } = manifestIn(zip);
    const used = (await listBalances(home.db)).filter(({ key }) => accounts[key] !== undefined);
    expect(used.length).toBe(Object.keys(accounts).length);
    for (const { key, balance } of used) expect(accounts[key]).toBe(String(balance));
  });

  test("is the same to the byte for the same rows, but for the moment in its manifest", async () => {
    const again = await archiveOf(home.db, guild.settled.sale.id);
    expect(sha256(again)).toBe(sha256(zip));
    const later = await archiveOf(home.db, guild.settled.sale.id, new Date("2027-01-01"));
    const { "manifest.json": _first, ...files } = filesIn(zip);
    const { "manifest.json": _second, ...others } = filesIn(later);
    expect(others).toEqual(files);
  });

  test("holds no secret and no buyer's address", async () => {
    const text = Object.entries(filesIn(zip))
      .filter(([path]) => !path.endsWith(".pdf"))
      .map(([, bytes]) => new TextDecoder().decode(bytes))
      .join("\n");
    for (const secret of ["argon2", "key-of-a-pin", "buyer@example.org", "token_hash", "pin_hash"])
      expect({ secret, found: text.includes(secret) }).toEqual({ secret, found: false });
    expect(text).toContain("w100@example.org");
  });
});

describe("what is refused, with nothing kept", () => {
  test.each([
    ["no zip at all", () => new TextEncoder().encode("PK but no zip"), "not an archive"],
    ["half of it", () => zip.slice(0, zip.length / 2), "not an archive"],
    [
      "a byte of a row",
      () => withFiles(zip, { "rows/item.json": "[\n\n]\n" }),
      "rows/item.json was",
    ],
    [
      "a statement",
      () => withFiles(zip, { "csv/items.csv": undefined }),
      "csv/items.csv is missing",
    ],
    [
      "a file too many",
      () => withFiles(zip, { "../../etc/cron": "x" }),
      "../../etc/cron does not belong",
    ],
    ["no manifest", () => withFiles(zip, { "manifest.json": undefined }), "no manifest.json"],
    ["a manifest of words", () => withFiles(zip, { "manifest.json": "hello" }), "not one of ours"],
    [
      "a later version",
      () => withManifest({ version: 2 }),
      "version 2; this service reads version 1",
    ],
    ["other tables", () => withManifest({ tables: "20200101" }), "the tables of 20200101"],
    [
      "a path that leads out",
      () =>
        withManifest({ files: [{ path: "../x", bytes: 1, sha256: "0".repeat(64), rows: null }] }),
      "not one of ours",
    ],
    [
      "another sum of an account",
      () => withManifest({ accounts: { ...manifestIn(zip).accounts, bank: "1" } }),
      "The account bank",
    ],
    [
      "a price made higher",
      () =>
        forged("rows/receipt_line.json", (text) =>
          text.replace('"amount":"4500"', '"amount":"4600"'),
        ),
      "do not fit together",
    ],
    [
      "an entry that does not balance",
      () =>
        forged("rows/posting.json", (text) => text.replace('"amount":"4871"', '"amount":"4872"')),
      "do not fit together",
    ],
    [
      "a count of its own",
      () => forged("rows/item_count.json", (text) => text.replace('"lost":0', '"lost":1')),
      "rows/item_count.json does not fit",
    ],
    [
      "a statement that pays more",
      () =>
        forged("rows/statement_line.json", (text) => text.replace('"rate":20000', '"rate":10000')),
      "",
    ],
    ["no rows", () => forged("rows/member.json", () => "{}"), "do not fit together"],
    ["rows cut off", () => forged("rows/payout.json", (text) => text.slice(0, 40)), ""],
  ])("%s", async (_what, change, words) => {
    const before = await contentOf(away.db, ["one_use_link"]);
    const problem = await refusal(change());
    expect(problem.code).toBe("invalid-input");
    expect(problem.detail).toContain(words);
    expect(problem.errors.every(({ field }) => field === "file")).toBe(true);
    expect(await contentOf(away.db, ["one_use_link"])).toEqual(before);
  });

  test("a zip that announces more than we take, or a file twice as long as it says", async () => {
    const saying = (length: number) => {
      const other = zip.slice();
      const view = new DataView(other.buffer);
      // The length of the first file, as the list at the end of the zip tells it.
      view.setUint32(view.getUint32(other.length - 22 + 16, true) + 24, length, true);
      return other;
    };
    expect((await refusal(saying(210_000_000))).detail).toContain("larger than any of ours");
    expect((await refusal(saying(4_000_000_000))).detail).toContain("more than any archive");
    expect((await refusal(saying(10))).detail).toContain("read-me.txt was changed or damaged");
  });

  test("a changed byte, wherever it lies: what still opens holds what it held", () => {
    const step = Math.floor(zip.length / 150);
    let opened = 0;
    for (let place = 7; place < zip.length; place += step) {
      const changed = zip.slice();
      changed[place] = (changed[place] ?? 0) ^ 0x10;
      const archive = openArchive(changed);
      if (!archive.ok) continue;
      opened += 1;
      for (const path of ["rows/posting.json", "rows/member.json"])
        expect(archive.value.text(path)).toBe(textIn(zip, path));
    }
    // Only the marks of the zip itself, such as its dates, are in no file.
    expect(opened).toBeLessThan(30);
  });

  const withManifest = (change: object) =>
    withFiles(zip, { "manifest.json": JSON.stringify({ ...manifestIn(zip), ...change }) });
});

describe("taken back", () => {
  test("by one of two at once: the books, the files and every row are the same", async () => {
    const token = (await offerSetUp(away.db)) ?? "";
    const both = await Promise.all([restore(away.db, zip, token), restore(away.db, zip, token)]);
    expect(both.map(({ ok }) => ok).sort()).toEqual([false, true]);
    expect(both.find(({ ok }) => !ok)).toMatchObject({ problem: { code: "link-used" } });
    const checked = await checkBooks(away.db);
    expect(checked).toEqual(await checkBooks(home.db));
    expect(checked.sound).toBe(true);
    expect(await listBalances(away.db)).toEqual(await listBalances(home.db));
    const files = filesIn(await archiveOf(away.db, guild.settled.sale.id));
    const { "manifest.json": _away, "rows/audit.json": audit, ...same } = files;
    const { "manifest.json": _home, "rows/audit.json": before, ...given } = filesIn(zip);
    expect(same).toEqual(given);
    const text = new TextDecoder();
    expect(JSON.parse(text.decode(audit)).slice(0, -1)).toEqual(JSON.parse(text.decode(before)));
  });

  test("statements read the same", async () => {
    const words = async (bytes: Uint8Array) =>
      Promise.all((await pagesOf(bytes)).map((page) => wordsOf(page)));
    const files = filesIn(await archiveOf(away.db, guild.settled.sale.id));
    const statements = Object.keys(files).filter((path) => path.endsWith(".pdf"));
    expect(statements).toHaveLength(2);
    for (const path of statements)
      expect(await words(files[path]!)).toEqual(await words(filesIn(zip)[path]!));
  });

  test("the service goes on: members have no pass phrase, new rows get new numbers", async () => {
    expect(await away.db.member.count({ where: { passphraseHash: { not: null } } })).toBe(0);
    expect(await away.db.oneUseLink.count({ where: { purpose: "invitation" } })).toBe(1);
    const { id: payoutId } = await away.db.payout.findFirstOrThrow({ where: { voided: null } });
    const deed = deedOf(away.db, guild.treasurer);
    done(await voidPayout(deed, { payoutId, reason: "Not cashed" }));
    expect((await checkBooks(away.db)).sound).toBe(true);
  });

  test("only once: a service that has a guild refuses", async () => {
    expect(await restore(away.db, zip)).toMatchObject({ problem: { code: "link-used" } });
    expect(await restore(home.db, zip)).toMatchObject({ problem: { code: "link-used" } });
  });
});
