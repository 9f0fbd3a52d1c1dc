import { createHash } from "node:crypto";
import { v7 } from "uuid";
import { afterAll, beforeAll, expect, test } from "vitest";
import { cashUp } from "../../src/actions/cash-up.ts";
import { recordReceipt } from "../../src/actions/record-receipt.ts";
import { buildMember, buildSale, deedOf } from "../support/build.ts";
import { buildHall, buildPieces, expectBooks, receiptFor } from "../support/build-till.ts";
import { freshDatabase, type TestDatabase } from "../support/database.ts";

let base: TestDatabase;
let hall: Awaited<ReturnType<typeof buildHall>>;
beforeAll(async () => {
  base = await freshDatabase();
  hall = await buildHall(base.db);
});
afterAll(() => base.drop());

const record = (receipt: ReturnType<typeof receiptFor>) =>
  recordReceipt(deedOf(base.db, hall.cashier), { ...receipt, saleId: hall.sale.id });
const pieces = (...wanted: Parameters<typeof buildPieces>[3]) =>
  buildPieces(base.db, hall.sale, hall.weaver, wanted);
const balance = async (account: string) => {
  const sum = await base.db.posting.aggregate({
    where: { accountKey: account },
    _sum: { amount: true },
  });
  return Number(sum._sum.amount ?? 0n);
};

test("a split payment: cash given, change, cheque and card, to the right accounts", async () => {
  const [scarf, shawl] = await pieces({ price: 4_500 }, { price: 12_000, donated: true });
  const drawer = `drawer/${hall.tills[0]!.id}`;
  const before = await balance(drawer);
  // 165.00 and 8.25 % of it, 13.6125, make 178.61 with the half coin rule.
  const receipt = receiptFor(hall.tills[0]!, [scarf!, shawl!], {
    tenders: [
      { kind: "cheque", amount: 5_000, reference: "No 118" },
      { kind: "card", amount: 10_000, reference: "T-77" },
      { kind: "cash", amount: 4_000 },
    ],
  });
  expect(receipt.total).toBe(17_861);
  const result = await record(receipt);
  expect(result).toMatchObject({
    ok: true,
    value: { tax: 1_361, total: 17_861, cashGiven: 4_000, change: 1_139, recorded: "now" },
  });
  expect((await balance(drawer)) - before).toBe(2_861);
  expect(await balance("cheques")).toBe(5_000);
  expect(await balance("card-clearing")).toBe(10_000);
  expect(await balance(`member/${hall.weaver.id}`)).toBe(-4_500);
  expect(await balance("donations")).toBe(-12_000);
  expect(await balance("tax/tax")).toBe(-1_361);
  const tenders = await base.db.receiptTender.findMany({ where: { receiptId: receipt.id } });
  expect(tenders.map(({ kind, amount }) => [kind, Number(amount)]).sort()).toEqual([
    ["card", 10_000],
    ["cash", 2_861],
    ["cheque", 5_000],
  ]);
});

test("the same receipt again is found, whatever was typed around the tag number", async () => {
  const [scarf] = await pieces({ price: 2_000 });
  const receipt = receiptFor(hall.tills[0]!, [scarf!]);
  const first = await record(receipt);
  const { tag } = scarf!;
  const spaced = `${tag.slice(0, 3)}-${tag.slice(3, 6)} ${tag.slice(6)}`;
  const second = await record({ ...receipt, lines: [{ kind: "item", tag: spaced, quantity: 1 }] });
  expect(first).toMatchObject({ ok: true, value: { recorded: "now" } });
  expect(second).toEqual({ ok: true, value: { ...(first.ok && first.value), recorded: "before" } });
});

test("50 at once with one id are one receipt and one sale in the books", async () => {
  const [scarf] = await pieces({ price: 3_300 });
  const receipt = receiptFor(hall.tills[1]!, [scarf!]);
  const drawer = `drawer/${hall.tills[1]!.id}`;
  const before = await balance(drawer);
  const results = await Promise.all(Array.from({ length: 50 }, () => record(receipt)));
  const kinds = results.map((result) => (result.ok ? result.value.recorded : result.problem.code));
  expect(kinds.filter((kind) => kind === "now")).toHaveLength(1);
  expect(kinds.filter((kind) => kind === "before")).toHaveLength(49);
  expect((await balance(drawer)) - before).toBe(receipt.total);
  expect(await base.db.receipt.count({ where: { id: receipt.id } })).toBe(1);
});

test("an id with other content is refused, and each version is kept once", async () => {
  const [scarf, other] = await pieces({ price: 2_100 }, { price: 2_200 });
  const receipt = receiptFor(hall.tills[0]!, [scarf!]);
  await record(receipt);
  const differing = receiptFor(hall.tills[0]!, [other!], { id: receipt.id });
  expect(await record(differing)).toMatchObject({ problem: { code: "key-reused", status: 422 } });
  expect(await record(differing)).toMatchObject({ problem: { code: "key-reused" } });
  const kept = await base.db.discrepancy.findMany({ where: { receiptId: receipt.id } });
  expect(kept).toHaveLength(1);
  expect(kept[0]!.detail).toMatchObject({
    recorded: { total: receipt.total },
    sent: { total: differing.total, lines: [{ tag: other!.tag }] },
  });
  const lines = await base.db.receiptLine.findMany({ where: { receiptId: receipt.id } });
  expect(lines.map(({ tag }) => tag)).toEqual([scarf!.tag]);
});

test("another price than the till showed is told with both sums, and nothing is recorded", async () => {
  const [scarf] = await pieces({ price: 5_000 });
  const receipt = receiptFor(hall.tills[0]!, [scarf!]);
  const result = await record({ ...receipt, total: receipt.total - 1 });
  expect(result).toMatchObject({ problem: { code: "changed-meanwhile", status: 409 } });
  if (result.ok) throw new Error("recorded");
  expect(result.problem.detail).toContain("$54.12");
  expect(result.problem.detail).toContain("$54.13");
  expect(await base.db.receipt.count({ where: { id: receipt.id } })).toBe(0);
});

test("what is not on the floor is told apart", async () => {
  const [home, part] = await pieces(
    { price: 900, onFloor: 0 },
    { price: 900, quantity: 3, onFloor: 2 },
  );
  const elsewhere = await buildSale(base.db, { stage: "selling" });
  const [foreign] = await buildPieces(base.db, elsewhere, hall.weaver, [{ price: 900 }]);
  const till = hall.tills[0]!;
  const codeOf = async (lines: Parameters<typeof receiptFor>[1]) => {
    const result = await record(receiptFor(till, lines));
    return result.ok ? "recorded" : [result.problem.code, result.problem.errors[0]!.field];
  };
  expect(await codeOf([home!])).toEqual(["not-on-floor", "lines.0.tag"]);
  expect(await codeOf([{ piece: part!, quantity: 3 }])).toEqual(["already-sold", "lines.0.tag"]);
  expect(await codeOf([part!, foreign!])).toEqual(["unknown-tag", "lines.1.tag"]);
  expect(await codeOf([{ ...part!, tag: "10099901" }])).toEqual([
    "wrong-check-digits",
    "lines.0.tag",
  ]);
  expect(await codeOf([part!, part!])).toEqual(["invalid-input", "lines.1.key"]);
  await base.db.item.update({ where: { id: home!.id }, data: { withdrawnAt: new Date() } });
  const withdrawn = await record(receiptFor(till, [home!]));
  expect(withdrawn).toMatchObject({ problem: { detail: expect.stringContaining("withdrawn") } });
});

test("a stack sold in parts by two tills at once never sells more than it holds", async () => {
  const [stack] = await pieces({ price: 700, quantity: 12 });
  const results = await Promise.all(
    Array.from({ length: 10 }, (_, index) =>
      record(receiptFor(hall.tills[index % 2]!, [{ piece: stack!, quantity: 2 }])),
    ),
  );
  expect(results.filter(({ ok }) => ok)).toHaveLength(6);
  for (const result of results) if (!result.ok) expect(result.problem.code).toBe("already-sold");
  const count = await base.db.itemCount.findUniqueOrThrow({ where: { itemId: stack!.id } });
  expect(count).toMatchObject({ onFloor: 0, withBuyer: 12 });
});

test("baskets in opposite order at two tills end without a deadlock showing", async () => {
  const stacks = await pieces({ price: 100, quantity: 60 }, { price: 100, quantity: 60 });
  const results = await Promise.all(
    Array.from({ length: 40 }, (_, index) =>
      record(receiptFor(hall.tills[index % 2]!, index % 2 ? stacks : stacks.toReversed())),
    ),
  );
  expect(results.every(({ ok }) => ok)).toBe(true);
});

test("numbers run without a gap, refusals among them", async () => {
  const some = await pieces(...Array.from({ length: 20 }, () => ({ price: 500 })));
  await Promise.all(
    [...some, ...some].map((piece, index) => record(receiptFor(hall.tills[index % 2]!, [piece]))),
  );
  for (const till of hall.tills) {
    const rows = await base.db.receipt.findMany({
      where: { tillId: till.id },
      orderBy: { number: "asc" },
    });
    expect(rows.map(({ number }) => number)).toEqual(rows.map((_, index) => index + 1));
  }
});

test("a till that is not open and a stage that does not sell are refused", async () => {
  const [scarf] = await pieces({ price: 800 });
  const shut = await base.db.till.create({ data: { saleId: hall.sale.id, number: 9, name: "" } });
  expect(await record(receiptFor(shut, [scarf!]))).toMatchObject({
    problem: { code: "till-closed" },
  });
  expect(await record(receiptFor({ id: v7() }, [scarf!]))).toMatchObject({
    problem: { code: "not-found" },
  });
  await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "settling" } });
  expect(await record(receiptFor(hall.tills[0]!, [scarf!]))).toMatchObject({
    problem: { code: "stage-closed" },
  });
  await base.db.sale.update({ where: { id: hall.sale.id }, data: { stage: "selling" } });
});

test("a cash-up in the middle of selling loses no receipt", async () => {
  const till = hall.tills[1]!;
  const some = await pieces(...Array.from({ length: 40 }, () => ({ price: 1_000 })));
  const counter = await buildMember(base.db, ["treasurer"]);
  const sales = some.map((piece) => record(receiptFor(till, [piece])));
  const closing = cashUp(deedOf(base.db, counter), {
    tillId: till.id,
    counted: 50_000,
    witness: "The other one",
    note: "",
  });
  const [results, closed] = await Promise.all([Promise.all(sales), closing]);
  if (!closed.ok) throw new Error(closed.problem.detail);
  for (const result of results) if (!result.ok) expect(result.problem.code).toBe("till-closed");
  const taken = await base.db.receiptTender.aggregate({
    where: { receipt: { tillSessionId: till.sessionId }, kind: "cash" },
    _sum: { amount: true },
  });
  expect(closed.value.expected).toBe(10_000 + Number(taken._sum.amount));
  expect(await balance(`drawer/${till.id}`)).toBe(0);
});

test("the stored fingerprint is a SHA-256 and the books hold", async () => {
  const row = await base.db.receipt.findFirstOrThrow();
  expect(row.fingerprint).toHaveLength(createHash("sha256").update("").digest("hex").length);
  expect(await expectBooks(base.db)).toEqual({ ledger: 0, pieces: 0 });
});
