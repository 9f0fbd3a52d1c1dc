import { get, type IncomingMessage } from "node:http";
import type { TestApp } from "./app.ts";

export interface HeardEvent {
  name: string;
  id: string | undefined;
  data: unknown;
}

/** Listens to server-sent events as a browser does, and tells them one by one. */
export async function listen({ app }: TestApp, path: string, headers: Record<string, string>) {
  const { port } = app.server.address() as { port: number };
  const answer = await new Promise<IncomingMessage>((resolve, reject) => {
    get({ port, host: "127.0.0.1", path, headers }, resolve).on("error", reject);
  });
  const events: HeardEvent[] = [];
  let text = "";
  let ended = false;
  let changed = () => {};
  answer.setEncoding("utf8");
  answer.on("data", (part: string) => {
    text += part;
    const blocks = text.split("\n\n");
    text = blocks.pop() ?? "";
    for (const block of blocks) if (/^event:/m.test(block)) events.push(readBlock(block));
    changed();
  });
  answer.on("close", () => {
    ended = true;
    changed();
  });
  answer.on("error", () => {});

  /** Waits until something holds, looking again at every part that comes. */
  async function until(holds: () => boolean, what: string): Promise<void> {
    const timer = setTimeout(() => changed(), 20_000);
    const start = Date.now();
    while (!holds()) {
      if (Date.now() - start > 19_000) throw new Error(`Waited in vain for ${what}`);
      await new Promise<void>((resolve) => {
        changed = resolve;
      });
    }
    clearTimeout(timer);
  }

  return {
    status: answer.statusCode,
    headers: answer.headers,
    events,
    until,
    /** The first event of this name after so many events. */
    async next(name: string, from = 0): Promise<HeardEvent> {
      const find = () => events.slice(from).find((one) => one.name === name);
      await until(() => find() !== undefined, name);
      return find() as HeardEvent;
    },
    ended: () => until(() => ended, "the end"),
    close: () => answer.destroy(),
  };
}

function readBlock(block: string): HeardEvent {
  const field = (name: string) => new RegExp(`^${name}: (.*)$`, "m").exec(block)?.[1];
  return { name: field("event") ?? "", id: field("id"), data: JSON.parse(field("data") ?? "null") };
}
