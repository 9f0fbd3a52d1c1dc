import { createHash } from "node:crypto";
import fc from "fast-check";
import { afterEach, describe, expect, test, vi } from "vitest";
import { openOutbox } from "../../../../src/browser/till/keep/outbox.ts";
import { ShelfRefused } from "../../../../src/browser/till/keep/shelf.ts";
import { emptyBasket } from "../../../../src/browser/till/sell/basket.ts";
import { unsentEntries, unsentFileShape } from "../../../../src/contract/unsent-file.ts";
import { noon, sceneOf, tagOf } from "../../../support/till-scene.ts";
import { freshName, newId, openTestTill, receiptOf } from "../till-shelf.ts";

afterEach(() => vi.restoreAllMocks());

const idsOf = async (till: Awaited<ReturnType<typeof openTestTill>>) =>
  (await till.outbox.oldest(1_000)).map(({ body }) => body.id);

test("a receipt gets the number after the server's last and outlives a reload", async () => {
  const name = freshName();
  const till = await openTestTill(name);
  const [first] = await till.outbox.record([receiptOf([tagOf(104, 1)])]);
  const [second] = await till.outbox.record([receiptOf([tagOf(104, 2)])]);
  expect([first?.number, second?.number]).toEqual([7, 8]);
  till.shelf.close();
  const again = await openTestTill(name);
  expect(again.outbox.unsent()).toBe(2);
  expect(again.outbox.lastNumber()).toBe(8);
  expect(await idsOf(again)).toEqual([first?.id, second?.id]);
  expect(await again.past.numbered(8)).toEqual(second);
});

test("both halves of an exchange are stored together, with numbers in their order", async () => {
  const till = await openTestTill();
  const both = await till.outbox.record([receiptOf(["10400185"]), receiptOf(["10400282"])]);
  expect(both.map(({ number }) => number)).toEqual([7, 8]);
  expect(till.outbox.unsent()).toBe(2);
});

test("the same receipt recorded twice keeps its number and goes out once", async () => {
  const till = await openTestTill();
  const receipt = receiptOf([tagOf(104, 1)]);
  const twice = await Promise.all([till.outbox.record([receipt]), till.outbox.record([receipt])]);
  expect(twice.map(([fact]) => fact?.number)).toEqual([7, 7]);
  expect(till.outbox.unsent()).toBe(1);
  const [next] = await till.outbox.record([receiptOf([tagOf(104, 2)])]);
  expect(next?.number).toBe(8);
});

test("two tabs that record at once never give one number twice", async () => {
  const name = freshName();
  const tabs = [await openTestTill(name), await openTestTill(name)];
  const made = await Promise.all(
    Array.from({ length: 20 }, (_, index) =>
      tabs[index % 2]!.outbox.record([receiptOf([tagOf(104, index + 1)])]),
    ),
  );
  const numbers = made.flat().map(({ number }) => number);
  expect(numbers.toSorted((a, b) => a - b)).toEqual(Array.from({ length: 20 }, (_, at) => at + 7));
});

test("the end of the basket is part of the receipt, and a late change does not bring it back", async () => {
  const till = await openTestTill();
  const basket = { ...emptyBasket(newId(), noon), exemption: "C-12" };
  await till.baskets.keep(basket);
  expect(await till.baskets.current()).toEqual(basket);
  await till.outbox.record([receiptOf([tagOf(104, 1)], { id: basket.id })]);
  expect(await till.baskets.current()).toBeUndefined();
  await till.baskets.keep(basket);
  expect(await till.baskets.current()).toBeUndefined();
});

test("a receipt that the server could never take is refused before it is stored", async () => {
  const till = await openTestTill();
  const [line] = receiptOf([tagOf(104, 1)]).lines;
  const scanned = receiptOf([tagOf(104, 1)], {
    lines: [{ ...line!, description: "Runner\u001d7" }],
  });
  await expect(till.outbox.record([scanned])).rejects.toThrow(/Line 1, Runner.*plain letters/);
  await expect(till.outbox.record([receiptOf([])])).rejects.toThrow();
  const half = receiptOf([tagOf(104, 1)], { reason: `${"a".repeat(59)}\ud83d` });
  await expect(till.outbox.record([receiptOf([tagOf(104, 2)]), half])).rejects.toThrow();
  expect(till.outbox.unsent()).toBe(0);
  // Other receipts are stored as before: it is not the device that refuses.
  expect(till.outbox.refusal()).toBeUndefined();
  expect((await till.outbox.record([receiptOf([tagOf(104, 3)])]))[0]?.number).toBe(7);
});

describe("a device that stores nothing", () => {
  const full = () => {
    throw new DOMException("No room", "QuotaExceededError");
  };

  test("records nothing at all, says why, and works again once there is room", async () => {
    const name = freshName();
    const till = await openTestTill(name);
    const basket = { ...emptyBasket(newId(), noon), exemption: "C-12" };
    await till.baskets.keep(basket);
    // The outbox takes it, the receipts of the till do not: half of it must not stay.
    const add = IDBObjectStore.prototype.add;
    vi.spyOn(IDBObjectStore.prototype, "add").mockImplementation(function (
      this: IDBObjectStore,
      row,
    ) {
      return this.name === "past" ? full() : add.call(this, row);
    });
    const receipt = receiptOf([tagOf(104, 1)], { id: basket.id });
    await expect(till.outbox.record([receipt])).rejects.toThrow(ShelfRefused);
    expect(till.outbox.refusal()).toMatch(/no sale can be started/);
    vi.restoreAllMocks();
    till.shelf.close();
    const again = await openTestTill(name);
    expect(again.outbox.refusal()).toBeUndefined();
    expect(again.outbox.unsent()).toBe(0);
    expect(await again.past.newest(5)).toEqual([]);
    expect(await again.baskets.current()).toEqual(basket);
    const [fact] = await again.outbox.record([receipt]);
    expect(fact?.number).toBe(7);
  });

  test("refuses to start a sale from the first moment", async () => {
    const till = await openTestTill();
    vi.spyOn(IDBObjectStore.prototype, "put").mockImplementation(full);
    const outbox = await openOutbox(till.shelf, () => sceneOf().till);
    expect(outbox.refusal()).toMatch(/does not store anything/);
    vi.restoreAllMocks();
    await outbox.lookForRoom();
    expect(outbox.refusal()).toBeUndefined();
  });

  test("is one whose database the browser took away", async () => {
    const till = await openTestTill();
    till.shelf.close();
    await expect(till.outbox.record([receiptOf([tagOf(104, 1)])])).rejects.toThrow(ShelfRefused);
    expect(till.outbox.refusal()).toBeDefined();
  });
});

test("an entry leaves only by its own id", async () => {
  const till = await openTestTill();
  const made = await till.outbox.record([receiptOf(["10400185"]), receiptOf(["10400282"])]);
  await till.outbox.answered([newId()]);
  expect(till.outbox.unsent()).toBe(2);
  await till.outbox.answered([made[1]!.id, made[1]!.id]);
  expect(await idsOf(till)).toEqual([made[0]!.id]);
  expect(await till.past.newest(5)).toHaveLength(2);
});

test("everything unsent goes into a file that the contract reads and whose hash fits", async () => {
  const till = await openTestTill();
  await till.outbox.record([receiptOf([tagOf(104, 1)])]);
  const move = {
    id: newId(),
    madeAt: noon.toISOString(),
    tillSessionId: newId(),
    cashierId: newId(),
    kind: "to-safe" as const,
    amount: 20_000,
    counts: [{ value: 2_000, count: 10 }],
    reason: "",
  };
  await till.outbox.recordMove(move);
  await till.outbox.recordMove(move);
  const { name, text } = await till.outbox.toFile();
  expect(name).toMatch(/^till-2-unsent-[\d-]+\.json$/);
  const file = unsentFileShape.parse(JSON.parse(text));
  expect(createHash("sha256").update(file.entries).digest("hex")).toBe(file.sha256);
  const entries = unsentEntries.parse(JSON.parse(file.entries));
  expect(entries).toEqual(await till.outbox.oldest(9));
  expect(entries.map(({ what }) => what)).toEqual(["receipt", "cash-move"]);
});

test("a buyer's address waits behind its receipt and leaves the device with the answer", async () => {
  const till = await openTestTill();
  const [fact] = await till.outbox.record([receiptOf([tagOf(104, 1)])]);
  const address = "buyer@example.org";
  const mail = { id: newId(), receiptId: fact!.id, address, madeAt: noon.toISOString() };
  await till.outbox.recordMails([mail]);
  await till.outbox.recordMails([mail]);
  expect(await till.outbox.oldest(9)).toMatchObject([
    { what: "receipt", body: { id: fact!.id } },
    { what: "receipt-mail", body: mail },
  ]);
  expect(till.outbox.unsent()).toBe(2);
  await till.outbox.answered([fact!.id]);
  const everything = async () => {
    const stores = [...till.shelf.objectStoreNames];
    return JSON.stringify(await Promise.all(stores.map((name) => till.shelf.getAll(name))));
  };
  expect(await everything()).toContain(address);
  await till.outbox.answered([mail.id]);
  expect(await everything()).toContain(fact!.id);
  expect(await everything()).not.toContain(address);
});

type Move = "record" | "answer" | "lost" | "strange" | "crash";
const moves = fc.array(
  fc.constantFrom<Move>("record", "record", "record", "answer", "lost", "strange", "crash"),
  { maxLength: 40 },
);

test("whatever happens, no entry is lost or changes its place, and the numbers have no gap", async () => {
  await fc.assert(
    fc.asyncProperty(moves, async (sequence) => {
      const name = freshName();
      let till = await openTestTill(name);
      const waiting: string[] = [];
      let next = 7;
      for (const move of sequence) {
        if (move === "record") {
          const [fact] = await till.outbox.record([receiptOf([tagOf(104, (next % 900) + 1)])]);
          expect(fact?.number).toBe(next++);
          waiting.push(fact!.id);
        } else if (move === "answer") {
          await till.outbox.answered(waiting.splice(0, 2));
        } else if (move === "lost") {
          // The server has it, and nobody here knows: it stays until an answer arrives.
          await till.outbox.oldest(2);
        } else if (move === "strange") {
          await till.outbox.answered([newId()]);
        } else {
          // Recording is under way when the browser dies: all of it stays, or none.
          const dying = receiptOf([tagOf(104, 5)]);
          const done = till.outbox.record([dying]).catch(() => undefined);
          till.shelf.close();
          await done;
          till = await openTestTill(name);
          if (await till.past.find(dying.id)) {
            waiting.push(dying.id);
            next += 1;
          }
        }
        expect(await idsOf(till)).toEqual(waiting);
        expect(till.outbox.unsent()).toBe(waiting.length);
      }
      const numbers = (await till.past.newest(100)).map(({ number }) => number).toReversed();
      expect(numbers).toEqual(numbers.map((_, index) => index + 7));
      till.shelf.close();
    }),
    { numRuns: 60 },
  );
});
