import pg from "pg";

const longestWait = 15_000;

export interface TillNews {
  listen(listener: () => void): () => void;
  count(): number;
  stop(): Promise<void>;
}

/**
 * One connection of its own that hears when something changed for the tills, whichever server of
 * the database changed it. It is opened when the first till listens, and again after a failure with
 * growing waits. News can be lost while it is down, so it calls everybody whenever it is up again;
 * until then the streams look every few seconds. Without an address it only keeps the list.
 */
export function startTillNews(
  url: string | undefined,
  failed: (error: unknown) => void = () => {},
): TillNews {
  const listeners = new Set<() => void>();
  let client: pg.Client | undefined;
  let retry: NodeJS.Timeout | undefined;
  let failures = 0;
  let stopped = false;

  const wakeAll = () => {
    for (const listener of listeners) listener();
  };

  function lost(broken: pg.Client, error: unknown): void {
    if (client !== broken) return;
    client = undefined;
    broken.end().catch(() => {});
    if (stopped) return;
    failed(error);
    failures += 1;
    retry = setTimeout(connect, Math.min(longestWait, 250 * 2 ** failures));
    retry.unref();
  }

  function connect(): void {
    retry = undefined;
    const fresh = new pg.Client({
      connectionString: url,
      keepAlive: true,
      connectionTimeoutMillis: 5_000,
      application_name: "thrumbook till news",
    });
    client = fresh;
    fresh.on("error", (error) => lost(fresh, error));
    fresh.on("end", () => lost(fresh, new Error("The connection ended")));
    fresh.on("notification", wakeAll);
    fresh
      .connect()
      .then(() => fresh.query("LISTEN till_change"))
      .then(() => {
        failures = 0;
        wakeAll();
      })
      .catch((error: unknown) => lost(fresh, error));
  }

  return {
    listen: (listener) => {
      listeners.add(listener);
      if (url && !client && !retry && !stopped) connect();
      return () => {
        listeners.delete(listener);
      };
    },
    count: () => listeners.size,
    stop: async () => {
      stopped = true;
      listeners.clear();
      clearTimeout(retry);
      const open = client;
      client = undefined;
      await open?.end().catch(() => {});
    },
  };
}
