import { afterEach, beforeEach, expect, test, vi } from "vitest";
import { installShell } from "../../../../src/browser/till/carry/shell-worker.ts";

const reload = vi.fn();
beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal("location", { reload });
  reload.mockClear();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

/** The browser's list of workers, with one in place or none. */
function containerWith(controller: object | null) {
  const posted: unknown[] = [];
  const registration = Object.assign(new EventTarget(), {
    waiting: null as { postMessage(words: unknown): void } | null,
    installing: null,
    update: vi.fn(async () => {}),
  });
  const container = Object.assign(new EventTarget(), {
    controller,
    register: vi.fn(async () => registration),
  });
  return {
    posted,
    registration,
    container: container as unknown as ServiceWorkerContainer,
    arrives: () => {
      registration.waiting = { postMessage: (words) => posted.push(words) };
    },
  };
}

test("a new version waits until nothing is under way, and then the page starts anew", async () => {
  const { container, arrives, posted, registration } = containerWith({});
  let idle = false;
  const shell = await installShell(async () => idle, container);
  arrives();
  await vi.advanceTimersByTimeAsync(120_000);
  expect(posted).toEqual([]);
  expect(registration.update).toHaveBeenCalledTimes(2);
  idle = true;
  shell.look();
  await vi.advanceTimersByTimeAsync(0);
  expect(posted).toEqual(["take over"]);
  expect(reload).not.toHaveBeenCalled();
  container.dispatchEvent(new Event("controllerchange"));
  expect(reload).toHaveBeenCalledOnce();
});

test("the first worker of a device starts nothing anew", async () => {
  const { container } = containerWith(null);
  await installShell(async () => true, container);
  container.dispatchEvent(new Event("controllerchange"));
  expect(reload).not.toHaveBeenCalled();
});

test("a browser without workers still has its till", async () => {
  vi.stubGlobal("navigator", {});
  const shell = await installShell(async () => true);
  expect(() => shell.look()).not.toThrow();
});
