import { expect, test } from "vitest";
import { makeTag } from "../../../../src/rules/tag-number.ts";
import { pieceOf, tagOf } from "../../../support/till-scene.ts";
import { freshName, listOf, openTestTill, receiptOf } from "../till-shelf.ts";

const scarf = pieceOf(1);
const mugs = pieceOf(2, { onFloor: 3, entered: 3 });

async function stocked(name = freshName()) {
  const till = await openTestTill(name);
  await till.goods.apply(listOf([scarf, mugs], "100", false), []);
  return till;
}

const floorOf = (till: Awaited<ReturnType<typeof stocked>>, tag: string) => {
  const found = till.goods.find(tag);
  return found && { onFloor: found.onFloor, state: found.state };
};

test("a whole list takes the place of the one before, a part changes what it names", async () => {
  const name = freshName();
  const till = await stocked(name);
  await till.goods.apply(listOf([{ ...scarf, price: 3_000 }], "101"), []);
  expect([till.goods.size(), till.goods.find(scarf.tag)?.price]).toEqual([2, 3_000]);
  till.shelf.close();
  const again = await openTestTill(name);
  expect(again.goods.find(scarf.tag)?.price).toBe(3_000);
  expect([again.goods.cursor(), again.goods.at()?.toISOString()]).toEqual([
    "101",
    "2026-11-25T17:00:00.000Z",
  ]);
  await again.goods.apply(listOf([mugs], "102", false), []);
  expect([again.goods.size(), again.goods.find(scarf.tag)]).toEqual([1, undefined]);
});

test("what this till sold is off its floor at once, and after a reload", async () => {
  const name = freshName();
  const till = await stocked(name);
  await till.outbox.record([receiptOf([scarf.tag])]);
  await till.outbox.record([receiptOf([mugs.tag], {}, 2)]);
  expect(floorOf(till, scarf.tag)).toEqual({ onFloor: 0, state: "sold" });
  expect(till.goods.find(scarf.tag)?.sold).toMatchObject({ till: 2, receipt: "2-0007" });
  expect(floorOf(till, mugs.tag)).toEqual({ onFloor: 1, state: "on-floor" });
  till.shelf.close();
  const again = await openTestTill(name);
  expect(floorOf(again, scarf.tag)).toEqual({ onFloor: 0, state: "sold" });
  expect(floorOf(again, mugs.tag)).toEqual({ onFloor: 1, state: "on-floor" });
});

test("a void gives pieces back to the floor, a return to the weaver does not", async () => {
  const till = await stocked();
  const back = (tag: string, goesTo: "floor" | "member", quantity = -1) => {
    const reversesId = crypto.randomUUID();
    const receipt = receiptOf([tag], { kind: "return", reversesId }, quantity);
    return { ...receipt, lines: receipt.lines.map((line) => ({ ...line, goesTo })) };
  };
  await till.outbox.record([receiptOf([scarf.tag])]);
  await till.outbox.record([back(scarf.tag, "floor")]);
  expect(floorOf(till, scarf.tag)).toEqual({ onFloor: 1, state: "on-floor" });
  await till.outbox.record([receiptOf([mugs.tag], {}, 3)]);
  await till.outbox.record([back(mugs.tag, "member")]);
  expect(floorOf(till, mugs.tag)).toEqual({ onFloor: 0, state: "sold" });
});

test("a piece is never on the floor again between the answer and the list that counts it", async () => {
  const name = freshName();
  let till = await stocked(name);
  const [fact] = await till.outbox.record([receiptOf([scarf.tag])]);
  await till.outbox.answered([fact!.id]);
  till.goods.answered([fact!.id]);
  expect(till.goods.answeredReceipts()).toEqual([fact!.id]);
  expect(floorOf(till, scarf.tag)).toEqual({ onFloor: 0, state: "sold" });
  till.shelf.close();
  till = await openTestTill(name);
  expect(till.goods.answeredReceipts()).toEqual([fact!.id]);
  expect(floorOf(till, scarf.tag)).toEqual({ onFloor: 0, state: "sold" });
  // The server counts it now, and a void at another till put it back: its word holds.
  await till.goods.apply(listOf([scarf], "105"), [fact!.id]);
  expect(floorOf(till, scarf.tag)).toEqual({ onFloor: 1, state: "on-floor" });
  till.shelf.close();
  expect(floorOf(await openTestTill(name), scarf.tag)).toEqual({ onFloor: 1, state: "on-floor" });
});

test("a receipt that is not answered stays counted whatever list comes", async () => {
  const till = await stocked();
  await till.outbox.record([receiptOf([scarf.tag])]);
  expect(till.goods.answeredReceipts()).toEqual([]);
  await till.goods.apply(listOf([scarf, mugs], "110", false), till.goods.answeredReceipts());
  expect(floorOf(till, scarf.tag)).toEqual({ onFloor: 0, state: "sold" });
});

test("who listens is told which tags changed", async () => {
  const till = await stocked();
  const heard: string[][] = [];
  const end = till.goods.onChange((tags) => heard.push([...tags]));
  await till.outbox.record([receiptOf([scarf.tag])]);
  await till.goods.apply(listOf([mugs], "111"), []);
  end();
  await till.goods.apply(listOf([mugs], "112"), []);
  expect(heard).toEqual([[scarf.tag], [mugs.tag]]);
});

test("50,000 tags are there after a reload", async () => {
  const name = freshName();
  const till = await openTestTill(name);
  const many = Array.from({ length: 50_000 }, (_, index) => {
    const made = makeTag(1_000 + Math.floor(index / 999), (index % 999) + 1, 10);
    if (!made.ok) throw new Error(made.problem.detail);
    return { ...scarf, tag: made.value };
  });
  await till.goods.apply(listOf(many, "1", false), []);
  till.shelf.close();
  const again = await openTestTill(name);
  expect(again.goods.size()).toBe(50_000);
  expect(again.goods.find(many[49_999]!.tag)?.tag).toBe(many[49_999]!.tag);
  expect(again.goods.find(tagOf(104, 1))).toBeUndefined();
});
