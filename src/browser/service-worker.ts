/**
 * Opens the till's page without a network. It keeps the page and exactly the files that the page
 * uses, all of one version; nothing else is kept here, and /api is never touched: receipts and
 * prices are the page's own business. The server writes `tillShell` above this file, so that another
 * version of the page is another worker to the browser.
 */
export interface Shell {
  version: string;
  files: string[];
  /** True when the till's page shall not be kept on devices any more. */
  off: boolean;
}

interface Lasting extends Event {
  waitUntil(work: Promise<unknown>): void;
}

interface Fetching extends Lasting {
  request: Request;
  respondWith(answer: Promise<Response>): void;
}

interface WorkerScope extends EventTarget {
  tillShell: Shell;
  registration: ServiceWorkerRegistration;
  clients: { claim(): Promise<void> };
  skipWaiting(): Promise<void>;
}

const worker = self as unknown as WorkerScope;
const { version, files, off } = worker.tillShell;
const prefix = "till-shell-";
const cacheName = prefix + version;
const page = "/till/";
const kept = new Set(files);
const listWait = 3_000;

worker.addEventListener("install", (event) => {
  // Past the browser's own cache: a file of another version among them would break the page.
  const wanted = files.map((file) => new Request(file, { cache: "reload" }));
  const store = async () => (await caches.open(cacheName)).addAll(wanted);
  (event as Lasting).waitUntil(off ? worker.skipWaiting() : store());
});

worker.addEventListener("activate", (event) => {
  (event as Lasting).waitUntil(off ? goAway() : takeOver());
});

/** The page says when: nobody is being served, and everything is sent. */
worker.addEventListener("message", (event) => {
  if ((event as MessageEvent).data === "take over") void worker.skipWaiting();
});

worker.addEventListener("fetch", (event) => {
  const { request } = event as Fetching;
  const { origin, pathname } = new URL(request.url);
  if (off || request.method !== "GET" || origin !== location.origin) return;
  const opens = request.mode === "navigate" && pathname === page;
  if (!opens && (pathname === page || !kept.has(pathname))) return;
  (event as Fetching).respondWith(fromCache(opens ? page : pathname, request));
  if (opens) (event as Fetching).waitUntil(lookForEnd());
});

async function takeOver(): Promise<void> {
  for (const name of await caches.keys())
    if (name.startsWith(prefix) && name !== cacheName) await caches.delete(name);
  await worker.clients.claim();
}

/**
 * The kept copy comes first, also on line: the page and its files stay of one version, and a slow
 * network holds nobody up. A browser that threw the copy away gets the page from the server.
 */
async function fromCache(path: string, request: Request): Promise<Response> {
  const cache = await caches.open(cacheName);
  return (await cache.match(path)) ?? fetch(request);
}

/** The way out: the server can tell every device to let go of the kept page. */
async function lookForEnd(): Promise<void> {
  try {
    const signal = AbortSignal.timeout(listWait);
    const answer = await fetch("/till/shell.json", { cache: "no-store", signal });
    const list = answer.ok ? ((await answer.json()) as Partial<Shell>) : {};
    if (list.off === true) await goAway();
  } catch {
    // Off line, or slow: the kept page is what it is for.
  }
}

async function goAway(): Promise<void> {
  for (const name of await caches.keys()) if (name.startsWith(prefix)) await caches.delete(name);
  await worker.registration.unregister();
}
