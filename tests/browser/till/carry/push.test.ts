import fc from "fast-check";
import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { openPush } from "../../../../src/browser/till/carry/push.ts";
import { type Ask, askServer, type Reply } from "../../../../src/browser/till/carry/server.ts";
import type { OutboxEntry } from "../../../../src/contract/till-fact.ts";
import { clockOffWords } from "../../../../src/rules/clock.ts";
import { pieceOf, tagOf } from "../../../support/till-scene.ts";
import { listOf, newId, openTestTill, receiptOf } from "../till-shelf.ts";

beforeEach(() => {
  vi.useFakeTimers({ toFake: ["setTimeout", "clearTimeout"] });
});
afterEach(() => {
  vi.useRealTimers();
});

const answer = (ids: readonly string[], more: object = {}): Reply => ({
  kind: "answer",
  body: { answers: ids.map((id) => ({ id, recorded: "now", notes: [] })), ...more },
});
const idsOf = (body: object | undefined): string[] =>
  (body as { entries: OutboxEntry[] }).entries.map((entry) => entry.body.id);

/** A till with so many receipts that wait, and the ids in their order. */
async function waitingTill(count: number) {
  const till = await openTestTill();
  const ids: string[] = [];
  for (let item = 1; item <= count; item += 1) {
    const [fact] = await till.outbox.record([receiptOf([tagOf(104, item)])]);
    ids.push(fact!.id);
  }
  return { till, ids };
}

const alone = (_name: string, work: () => Promise<void>) => work();
type TestTill = Awaited<ReturnType<typeof openTestTill>>;
const pushOf = (till: TestTill, ask: Ask, sent = () => {}) =>
  openPush({ ...till, ask, sent, alone });

test("sends the oldest first, at most twenty at once, until nothing waits", async () => {
  const { till, ids } = await waitingTill(45);
  const asked: string[][] = [];
  const push = pushOf(till, async (_path, question) => {
    asked.push(idsOf(question?.body));
    return answer(asked.at(-1)!);
  });
  await push.now();
  expect(asked).toEqual([ids.slice(0, 20), ids.slice(20, 40), ids.slice(40)]);
  expect(till.state.now()).toMatchObject({ unsent: 0, online: true, trouble: undefined });
});

test("shuffled, doubled and foreign answers take out what they name and nothing else", async () => {
  const { till, ids } = await waitingTill(3);
  let round = 0;
  const push = pushOf(till, async () => {
    round += 1;
    return round === 1
      ? answer([ids[2]!, newId(), ids[0]!, ids[2]!])
      : { kind: "answer", body: "not what was agreed" };
  });
  await push.now();
  push.stop();
  expect(idsOf({ entries: await till.outbox.oldest(9) })).toEqual([ids[1]]);
});

test("a lost answer keeps everything, and the same entries go out again later", async () => {
  const { till, ids } = await waitingTill(2);
  const asked: string[][] = [];
  const push = pushOf(till, async (_path, question) => {
    asked.push(idsOf(question?.body));
    return asked.length < 3 ? { kind: "silent" } : answer(asked.at(-1)!);
  });
  await push.now();
  expect(till.outbox.unsent()).toBe(2);
  expect(till.state.now().online).toBe(false);
  await vi.advanceTimersByTimeAsync(1_500);
  await vi.waitFor(() => expect(asked).toHaveLength(2));
  await vi.advanceTimersByTimeAsync(3_000);
  await vi.waitFor(() => expect(till.outbox.unsent()).toBe(0));
  expect(asked).toEqual([ids, ids, ids]);
});

test.each([
  ["a device that is no till any more", 401, "not-a-till"],
  ["a refusal of any kind", 422, "key-reused"],
])("%s loses nothing and is told", async (_words, status, code) => {
  const { till, ids } = await waitingTill(2);
  const push = pushOf(till, async () => ({
    kind: "refused",
    ...{ status, code, detail: "The chair noted this device as lost.", body: {} },
  }));
  await push.now();
  push.stop();
  expect(idsOf({ entries: await till.outbox.oldest(9) })).toEqual(ids);
  expect(till.state.now()).toMatchObject({
    online: true,
    trouble: "The chair noted this device as lost.",
    shutOut: code === "not-a-till",
  });
});

test("one entry that the server cannot read holds up none before it", async () => {
  const { till, ids } = await waitingTill(5);
  const push = pushOf(till, async (_path, question) => {
    const asked = idsOf(question?.body);
    if (!asked.includes(ids[3]!)) return answer(asked);
    const refusal = { status: 400, code: "invalid-input", detail: "A line is wrong.", body: {} };
    return { kind: "refused", ...refusal };
  });
  await push.now();
  push.stop();
  expect(idsOf({ entries: await till.outbox.oldest(9) })).toEqual(ids.slice(3));
  expect(till.state.now().trouble).toBe("A line is wrong.");
});

test("what was taken before the server stopped leaves, the rest stays with the reason", async () => {
  const { till, ids } = await waitingTill(3);
  let round = 0;
  const push = pushOf(till, async () => {
    round += 1;
    const problem = { detail: "Receipt 2-0008 comes first." };
    return answer(round === 1 ? [ids[0]!] : [], { problem });
  });
  await push.now();
  push.stop();
  expect(till.outbox.unsent()).toBe(2);
  expect(till.state.now().trouble).toBe("Receipt 2-0008 comes first.");
});

test("never two pushes at once, and what is recorded meanwhile goes out as well", async () => {
  const { till } = await waitingTill(1);
  let inside = 0;
  let most = 0;
  const push = pushOf(till, async (_path, question) => {
    most = Math.max(most, ++inside);
    if (till.outbox.lastNumber() === 7) await till.outbox.record([receiptOf([tagOf(104, 9)])]);
    inside -= 1;
    return answer(idsOf(question?.body));
  });
  await Promise.all([push.now(), push.now(), push.now()]);
  expect([most, till.outbox.unsent()]).toEqual([1, 0]);
});

test("while another tab holds the lock nothing is sent", async () => {
  const { till } = await waitingTill(1);
  const ask = vi.fn();
  const push = openPush({ ...till, ask, sent: () => {}, alone: async () => {} });
  await push.now();
  push.stop();
  expect(ask).not.toHaveBeenCalled();
  expect(till.outbox.unsent()).toBe(1);
});

test("answered receipts wait for the list that counts them", async () => {
  const { till, ids } = await waitingTill(1);
  const sent = vi.fn();
  await pushOf(till, async (_path, question) => answer(idsOf(question?.body)), sent).now();
  expect(sent).toHaveBeenCalledOnce();
  expect(till.goods.answeredReceipts()).toEqual(ids);
  await till.goods.apply(listOf([pieceOf(1)], "5"), till.goods.answeredReceipts());
  expect(till.goods.answeredReceipts()).toEqual([]);
});

const fates = fc.array(fc.constantFrom("good", "lost", "silent", "part", "shuffled"), {
  maxLength: 12,
});

test("through any network the server gets every receipt, oldest first", async () => {
  await fc.assert(
    fc.asyncProperty(fates, fc.integer({ min: 1, max: 30 }), async (sequence, count) => {
      const { till, ids } = await waitingTill(count);
      const known: string[] = [];
      const left = [...sequence];
      const ask: Ask = async (_path, question) => {
        const fate = left.shift() ?? "good";
        if (fate === "silent") return { kind: "silent" };
        const all = idsOf(question?.body);
        const taken = fate === "part" ? all.slice(0, 1) : all;
        for (const id of taken) if (!known.includes(id)) known.push(id);
        if (fate === "lost") return { kind: "silent" };
        return answer(fate === "shuffled" ? taken.toReversed() : taken);
      };
      const push = pushOf(till, ask);
      for (let round = 0; round < 20 && till.outbox.unsent() > 0; round += 1) await push.now();
      push.stop();
      expect(known).toEqual(ids);
      expect(till.outbox.unsent()).toBe(0);
    }),
    { numRuns: 30 },
  );
});

test("every question says what waits here; what is no answer of ours is silence", async () => {
  const answers = [
    new Response('{"a":1}', { headers: { "content-type": "application/json" } }),
    new Response(null, { status: 204 }),
    new Response("<html>Sign on</html>", { headers: { "content-type": "text/html" } }),
    new Response("{}", { status: 503, headers: { "content-type": "application/problem+json" } }),
    new Response('{"code":"not-a-till","detail":"Ask the chair."}', {
      status: 401,
      headers: { "content-type": "application/problem+json" },
    }),
  ];
  const send = vi.fn(async (_input: unknown, _options?: RequestInit) => {
    const next = answers.shift();
    if (!next) throw new TypeError("The network is gone");
    return next;
  });
  const ask = askServer(() => ({ unsent: 3, lastNumber: 9 }), send as typeof fetch);
  expect(await ask("/api/a", { body: { b: 1 } })).toEqual({ kind: "answer", body: { a: 1 } });
  expect(send.mock.calls[0]?.[1]).toMatchObject({
    method: "POST",
    body: '{"b":1}',
    headers: { "x-till-status": '{"unsent":3,"lastNumber":9}' },
  });
  expect((await ask("/api/a")).kind).toBe("answer");
  expect(await ask("/api/a")).toEqual({ kind: "silent" });
  expect(await ask("/api/a")).toEqual({ kind: "silent" });
  expect(await ask("/api/a")).toMatchObject({ kind: "refused", status: 401, code: "not-a-till" });
  expect(await ask("/api/a")).toEqual({ kind: "silent" });
});

test("each answer of the server tells by how much this device's clock is ahead; silence tells nothing", async () => {
  const { state } = await openTestTill();
  const at = (hours: number) => new Date(Date.now() + hours * 3_600_000).toUTCString();
  const types = ["application/json", "application/problem+json", "text/html"];
  const dates = [at(-3), at(72), at(0)];
  const send = async () =>
    new Response("{}", {
      status: types.length === 2 ? 401 : 200,
      headers: { "content-type": types.shift()!, date: dates.shift()! },
    });
  const status = () => ({ unsent: 0, lastNumber: 0 });
  const ask = askServer(status, send as typeof fetch, state.clock);
  const heard = async () => {
    await ask("/api/a");
    return clockOffWords(state.now().clockAhead ?? 0);
  };
  expect(state.now().clockAhead).toBeUndefined();
  expect(await heard()).toBe("3 hours fast");
  expect(await heard()).toBe("3 days slow");
  expect(await heard()).toBe("3 days slow");
});
