import { expect, test } from "vitest";
import { emptyBasket } from "../../../../src/browser/till/sell/basket.ts";
import { noon, pieceOf, tagOf } from "../../../support/till-scene.ts";
import { freshName, listOf, newId, openTestTill, receiptOf } from "../till-shelf.ts";

test("receipts are found by number, by tag and by what took them back", async () => {
  const { outbox, past } = await openTestTill();
  const [tag, other] = [tagOf(104, 1), tagOf(104, 2)];
  const [sale] = await outbox.record([receiptOf([tag, tag, other])]);
  const [back] = await outbox.record([
    receiptOf([tag], { kind: "return", reversesId: sale!.id }, -1),
  ]);
  expect((await past.newest(1))[0]).toEqual(back);
  expect((await past.withTag(tag)).map(({ number }) => number)).toEqual([8, 7]);
  expect(await past.withTag(other)).toEqual([sale]);
  expect(await past.takenBack(sale!.id)).toEqual([back]);
  expect([await past.find(newId()), await past.numbered(99)]).toEqual([undefined, undefined]);
});

test("only the oldest that the server's list counts are forgotten", async () => {
  const { outbox, past, goods } = await openTestTill();
  const made: string[] = [];
  for (let item = 1; item <= 6; item += 1) {
    const [fact] = await outbox.record([receiptOf([tagOf(104, item)])]);
    made.push(fact!.id);
  }
  await outbox.answered([made[0]!, made[2]!]);
  goods.answered([made[0]!, made[2]!]);
  await goods.apply(listOf([pieceOf(1)], "5"), [made[0]!]);
  await past.trim(3);
  expect((await past.newest(9)).map(({ id }) => id).toReversed()).toEqual(made.slice(1));
});

test("baskets wait in the order in which they were put aside and come back whole", async () => {
  const name = freshName();
  const till = await openTestTill(name);
  const [first, second] = [newId(), newId()].map((id) => ({
    ...emptyBasket(id, noon),
    exemption: id,
  }));
  await till.baskets.keep(first!);
  await till.baskets.hold(first!, "blue coat", 4_500);
  expect(await till.baskets.current()).toBeUndefined();
  await till.baskets.hold(second!, "two children", 900);
  till.shelf.close();
  const { baskets } = await openTestTill(name);
  expect((await baskets.held()).map(({ name, total }) => [name, total])).toEqual([
    ["blue coat", 4_500],
    ["two children", 900],
  ]);
  expect(await baskets.allDone()).toBe(false);
  expect(await baskets.resume(first!.id)).toEqual(first);
  expect(await baskets.current()).toEqual(first);
  expect(await baskets.resume(first!.id)).toBeUndefined();
  await baskets.resume(second!.id);
  await baskets.keep(emptyBasket(newId(), noon));
  expect(await baskets.allDone()).toBe(true);
});
