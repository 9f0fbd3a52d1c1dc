import { afterEach, expect, test, vi } from "vitest";
import { waitBefore } from "../../../../src/browser/till/carry/back-off.ts";
import { openLive } from "../../../../src/browser/till/carry/live.ts";
import { openPull } from "../../../../src/browser/till/carry/pull.ts";
import type { Reply } from "../../../../src/browser/till/carry/server.ts";
import { pieceOf, sceneOf } from "../../../support/till-scene.ts";
import { listOf, openTestTill, receiptOf } from "../till-shelf.ts";

afterEach(() => vi.useRealTimers());

const scarf = pieceOf(1);
const given = (body: unknown): Reply => ({ kind: "answer", body });

async function tillWith(...replies: Reply[]) {
  const till = await openTestTill();
  const asked: string[] = [];
  const ask = async (path: string): Promise<Reply> => {
    asked.push(path);
    return replies.shift() ?? { kind: "silent" };
  };
  return { till, asked, pull: openPull({ ...till, ask }) };
}

test("the whole list first, then what changed since", async () => {
  const { till, asked, pull } = await tillWith(
    given(listOf([scarf], "7", false)),
    given(listOf([{ ...scarf, price: 1 }], "9")),
  );
  expect(await pull.goods()).toBe(true);
  expect(await pull.goods()).toBe(true);
  expect(asked).toEqual(["/api/till/catalogue", "/api/till/catalogue?after=7"]);
  expect(till.goods.find(scarf.tag)?.price).toBe(1);
});

test("silence, a refusal and nonsense leave the list as it is and tell how things stand", async () => {
  const detail = "Ask the chair for a code.";
  const { till, pull } = await tillWith(
    given(listOf([scarf], "7", false)),
    { kind: "silent" },
    { kind: "refused", status: 401, code: "not-a-till", detail, body: {} },
    given({ cursor: "x", items: [] }),
    given(listOf([], "8")),
  );
  await pull.goods();
  expect(till.state.now()).toMatchObject({ online: true, trouble: undefined });
  expect(await pull.goods()).toBe(false);
  expect(till.state.now().online).toBe(false);
  expect(await pull.goods()).toBe(false);
  expect(till.state.now()).toMatchObject({ online: true, trouble: detail });
  expect(await pull.goods()).toBe(false);
  expect([till.goods.cursor(), till.goods.size()]).toEqual(["7", 1]);
  await pull.goods();
  expect(till.state.now().trouble).toBeUndefined();
});

test("a receipt counts as in the list only if it was answered before the list was asked for", async () => {
  const { till } = await tillWith();
  const waiting: ((reply: Reply) => void)[] = [];
  const ask = () => new Promise<Reply>((resolve) => waiting.push(resolve));
  const pull = openPull({ ...till, ask });
  const [fact] = await till.outbox.record([receiptOf([scarf.tag])]);
  const first = pull.goods();
  await vi.waitFor(() => expect(waiting).toHaveLength(1));
  await till.outbox.answered([fact!.id]);
  till.goods.answered([fact!.id]);
  const second = pull.goods();
  const third = pull.goods();
  waiting[0]!(given(listOf([scarf], "7", false)));
  await first;
  expect(till.goods.find(scarf.tag)?.state).toBe("sold");
  await vi.waitFor(() => expect(waiting).toHaveLength(2));
  waiting[1]!(given(listOf([{ ...scarf, onFloor: 0, state: "sold" }], "8")));
  expect(await Promise.all([second, third])).toEqual([true, true]);
  expect(waiting).toHaveLength(2);
  expect(till.goods.answeredReceipts()).toEqual([]);
});

test("live parts are taken in when they follow, and asked for when they may not", async () => {
  const { till, asked, pull } = await tillWith(
    given(listOf([scarf], "20", false)),
    given(listOf([], "21")),
  );
  await pull.goods();
  await pull.came(listOf([{ ...scarf, price: 5 }], "21"));
  expect(till.goods.find(scarf.tag)?.price).toBe(5);
  // An older part that was overtaken on its way must not put an old price back.
  await pull.came(listOf([scarf], "20"));
  expect(till.goods.find(scarf.tag)?.price).toBe(5);
  expect(asked.at(-1)).toBe("/api/till/catalogue?after=21");
});

test("a live part that comes while a question is out does not get under its older answer", async () => {
  const { till } = await tillWith();
  await till.goods.apply(listOf([scarf], "20", false), []);
  const waiting: ((reply: Reply) => void)[] = [];
  const ask = () => new Promise<Reply>((resolve) => waiting.push(resolve));
  const pull = openPull({ ...till, ask });
  const asked = pull.goods();
  await vi.waitFor(() => expect(waiting).toHaveLength(1));
  const came = pull.came(listOf([{ ...scarf, price: 5 }], "22"));
  waiting[0]!(given(listOf([scarf], "21")));
  await asked;
  await vi.waitFor(() => expect(waiting).toHaveLength(2));
  waiting[1]!(given(listOf([{ ...scarf, price: 5 }], "22")));
  await came;
  expect(till.goods.find(scarf.tag)?.price).toBe(5);
});

test("the scene raises the last number and never lowers it", async () => {
  const { till, pull } = await tillWith(
    given({ ...sceneOf(), lastNumber: 3 }),
    given({ ...sceneOf({ name: "Spring sale" }), lastNumber: 12 }),
  );
  await pull.scene();
  expect((await till.outbox.record([receiptOf([scarf.tag])]))[0]?.number).toBe(7);
  await pull.scene();
  expect(till.scene.now().sale.name).toBe("Spring sale");
  expect((await till.outbox.record([receiptOf([scarf.tag])]))[0]?.number).toBe(13);
});

test("the scene of another till is not put over receipts of this one", async () => {
  const other = sceneOf();
  const { till, pull } = await tillWith(given({ ...other, till: { ...other.till, id: "other" } }));
  expect(await pull.scene()).toBe(false);
  expect(till.scene.now().till.number).toBe(2);
});

class Line extends EventTarget {
  readyState = 1;
  closed = false;
  close(): void {
    this.closed = true;
    this.readyState = 2;
  }
  say(name: string, data: unknown): void {
    this.dispatchEvent(new MessageEvent(name, { data: JSON.stringify(data) }));
  }
}

test("news come by the line; without one the till asks every 15 seconds and calls again", async () => {
  vi.useFakeTimers();
  const lines: Line[] = [];
  const pull = {
    goods: vi.fn(async () => true),
    scene: vi.fn(async () => true),
    came: vi.fn(async () => {}),
  };
  const { state } = await openTestTillNow();
  const live = openLive({
    cursor: () => "7",
    pull,
    state,
    open: (address) => {
      expect(address).toBe("/api/till/events?after=7");
      lines.push(new Line());
      return lines.at(-1) as unknown as EventSource;
    },
  });
  // At once, not after the first 15 seconds: a cashier waits for the prices.
  await vi.advanceTimersByTimeAsync(0);
  expect(pull.goods).toHaveBeenCalledOnce();
  lines[0]!.say("goods", { cursor: "8" });
  expect(pull.came).toHaveBeenCalledWith({ cursor: "8" });
  lines[0]!.say("scene", {});
  expect(pull.scene).toHaveBeenCalledTimes(2);
  await vi.advanceTimersByTimeAsync(15_000);
  expect(pull.goods).toHaveBeenCalledOnce();
  // A clock that is set back while the till is open must not keep a dead line alive.
  vi.setSystemTime(Date.now() - 3 * 3_600_000);
  // A line that says nothing for three beats is dead, whatever it thinks of itself.
  await vi.advanceTimersByTimeAsync(45_000);
  expect(pull.goods).toHaveBeenCalledTimes(2);
  expect([lines.length, lines[0]!.closed]).toEqual([2, true]);
  lines[1]!.close();
  pull.scene.mockResolvedValue(false);
  await vi.advanceTimersByTimeAsync(30_000);
  expect(lines).toHaveLength(2);
  pull.scene.mockResolvedValue(true);
  await vi.advanceTimersByTimeAsync(15_000);
  expect(lines).toHaveLength(3);
  live.stop();
  expect(lines[2]!.closed).toBe(true);
});

/** The database of the tests needs real timers, so the till is opened under them. */
async function openTestTillNow() {
  vi.useRealTimers();
  const till = await openTestTill();
  vi.useFakeTimers();
  return till;
}

test("each try waits twice as long as the one before, from 1 to 30 seconds", () => {
  expect([1, 2, 3, 5, 6, 60].map((failed) => waitBefore(failed, 0))).toEqual([
    1_000, 2_000, 4_000, 16_000, 30_000, 30_000,
  ]);
  expect([waitBefore(1, 255), waitBefore(6, 255)]).toEqual([1_498, 30_000]);
});
