import { beforeEach, expect, test, vi } from "vitest";

/** The worker's world as the browser gives it, as far as this worker uses it. */
function world(shell: { version: string; files: string[]; off: boolean }) {
  const stores = new Map<string, Map<string, string>>();
  const heard = new Map<string, (event: unknown) => void>();
  const calls: string[] = [];
  const fetched: string[] = [];
  let lists: unknown = { off: false };
  const nameOf = (wanted: Request | string) =>
    typeof wanted === "string" ? wanted : new URL(wanted.url).pathname;
  vi.stubGlobal("location", { origin: "https://sale.test" });
  vi.stubGlobal(
    "Request",
    class {
      url: string;
      constructor(path: string) {
        this.url = new URL(path, "https://sale.test").href;
      }
    },
  );
  vi.stubGlobal("self", {
    tillShell: shell,
    addEventListener: (name: string, hear: (event: unknown) => void) => heard.set(name, hear),
    skipWaiting: async () => calls.push("skipWaiting"),
    clients: { claim: async () => calls.push("claim") },
    registration: { unregister: async () => calls.push("unregister") },
  });
  vi.stubGlobal("caches", {
    keys: async () => [...stores.keys()],
    delete: async (name: string) => stores.delete(name),
    open: async (name: string) => {
      const store = stores.get(name) ?? new Map<string, string>();
      stores.set(name, store);
      return {
        addAll: async (wanted: Request[]) => {
          for (const request of wanted) store.set(nameOf(request), "kept");
        },
        match: async (path: string) => store.get(path),
      };
    },
  });
  vi.stubGlobal("fetch", async (wanted: Request | string) => {
    fetched.push(nameOf(wanted));
    return wanted === "/till/shell.json"
      ? { ok: true, json: async () => lists }
      : "from the server";
  });
  async function happen(name: string, more: object = {}): Promise<unknown> {
    const work: Promise<unknown>[] = [];
    let answer: Promise<unknown> | undefined;
    heard.get(name)?.({
      ...more,
      waitUntil: (part: Promise<unknown>) => work.push(part),
      respondWith: (given: Promise<unknown>) => {
        answer = given;
      },
    });
    await Promise.all(work);
    return answer;
  }
  const ask = (path: string, more: object = {}) =>
    happen("fetch", {
      request: { url: `https://sale.test${path}`, method: "GET", mode: "cors", ...more },
    });
  return {
    ...{ stores, calls, fetched, happen, ask },
    callBack: () => {
      lists = { off: true };
    },
  };
}

beforeEach(() => {
  vi.resetModules();
  vi.unstubAllGlobals();
});

const files = ["/till/", "/assets/till-AAAA.js"];
const opening = { mode: "navigate" };

async function installed(shell = { version: "b", files, off: false }) {
  const it = world(shell);
  it.stores.set("till-shell-a", new Map([["/till/", "old"]]));
  it.stores.set("something else", new Map());
  await import("../../src/browser/service-worker.ts");
  await it.happen("install");
  return it;
}

test("keeps exactly its files and waits; taking over drops the version before and nothing else", async () => {
  const it = await installed();
  expect([...it.stores.get("till-shell-b")!.keys()]).toEqual(files);
  expect(it.calls).toEqual([]);
  await it.happen("message", { data: "something" });
  expect(it.calls).toEqual([]);
  await it.happen("message", { data: "take over" });
  await it.happen("activate");
  expect(it.calls).toEqual(["skipWaiting", "claim"]);
  expect([...it.stores.keys()]).toEqual(["something else", "till-shell-b"]);
});

test("opens the page and its files from what is kept, in any view", async () => {
  const it = await installed();
  expect(await it.ask("/till/", opening)).toBe("kept");
  expect(await it.ask("/till/?view=customer", opening)).toBe("kept");
  expect(await it.ask("/assets/till-AAAA.js")).toBe("kept");
  it.stores.get("till-shell-b")!.clear();
  expect(await it.ask("/assets/till-AAAA.js")).toBe("from the server");
});

test("never touches the server's answers, other pages, other sites or anything that is sent", async () => {
  const it = await installed();
  for (const path of ["/api/till/scene", "/api/till/outbox", "/till/some-id/cash-up", "/till"])
    expect(await it.ask(path, opening)).toBeUndefined();
  expect(await it.ask("/till/", { ...opening, method: "POST" })).toBeUndefined();
  expect(await it.ask("/till/", { url: "https://other.test/till/", ...opening })).toBeUndefined();
  expect(it.fetched).toEqual([]);
});

test("lets go of everything of its own when the server calls it back", async () => {
  const it = await installed();
  await it.ask("/till/", opening);
  expect(it.calls).toEqual([]);
  it.callBack();
  await it.ask("/till/", opening);
  expect(it.calls).toEqual(["unregister"]);
  expect([...it.stores.keys()]).toEqual(["something else"]);
});

test("a worker that is called back from the start keeps nothing and answers nothing", async () => {
  const it = await installed({ version: "b", files, off: true });
  await it.happen("activate");
  expect(it.calls).toEqual(["skipWaiting", "unregister"]);
  expect([...it.stores.keys()]).toEqual(["something else"]);
  expect(await it.ask("/till/", opening)).toBeUndefined();
});
