import { expect, test, vi } from "vitest";
import { openGuard } from "../../../../src/browser/till/carry/guard.ts";

type Held = { end(): void; stolen(error: Error): void };

/** One lock as the browser's Web Locks hold it: a queue, ifAvailable, steal and signal. */
function fakeLocks(): LockManager {
  let held: Held | undefined;
  const queue: (() => void)[] = [];
  const request = (
    _name: string,
    { ifAvailable, steal, signal }: LockOptions,
    work: (lock: Lock | null) => unknown,
  ) =>
    new Promise<void>((resolve, reject) => {
      const grant = () => {
        const mine: Held = {
          end: () => {
            if (held === mine) held = undefined;
            queue.shift()?.();
            resolve();
          },
          stolen: reject,
        };
        held = mine;
        void Promise.resolve(work({} as Lock)).then(() => held === mine && mine.end());
      };
      if (steal) {
        held?.stolen(new DOMException("Stolen", "AbortError"));
        return grant();
      }
      if (!held) return grant();
      if (ifAvailable) return resolve(void work(null));
      queue.push(grant);
      signal?.addEventListener("abort", () => {
        queue.splice(queue.indexOf(grant), 1);
        reject(signal.reason);
      });
    });
  return { request } as unknown as LockManager;
}

const tab = (locks: LockManager, name: string, wait = 200) => {
  const channel = new BroadcastChannel(name);
  return { guard: openGuard(locks, channel, wait), channel };
};

test("the second tab is told, asks, and the first lets go", async () => {
  const locks = fakeLocks();
  const [first, second] = [tab(locks, "let-go"), tab(locks, "let-go")];
  const [lostFirst, lostSecond] = [vi.fn(), vi.fn()];
  expect(await first.guard.enter(lostFirst)).toBe(true);
  expect(await second.guard.enter(lostSecond)).toBe(false);
  expect(await second.guard.takeOver(lostSecond)).toBe(true);
  expect([lostFirst.mock.calls.length, lostSecond.mock.calls.length]).toEqual([1, 0]);
  first.channel.close();
  second.channel.close();
});

test("a tab that does not answer loses its place all the same, and is told when it wakes", async () => {
  const locks = fakeLocks();
  const [first, second] = [tab(locks, "asleep"), tab(locks, "asleep", 20)];
  const lost = vi.fn();
  expect(await first.guard.enter(lost)).toBe(true);
  first.channel.onmessage = null;
  expect(await second.guard.takeOver(() => {})).toBe(true);
  await vi.waitFor(() => expect(lost).toHaveBeenCalledOnce());
  first.channel.close();
  second.channel.close();
});
