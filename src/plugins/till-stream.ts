import { createHash } from "node:crypto";
import { PassThrough, type Readable } from "node:stream";
import { setTimeout as wait } from "node:timers/promises";
import type { Database } from "../database/client.ts";
import { readDeviceScene, sceneMark } from "../database/device-scene.ts";
import { catalogueJson, readChanges } from "../database/till-catalogue.ts";
import type { KnownDevice } from "../database/till-devices.ts";
import type { TillNews } from "./types.ts";

/** A till is told of changes at most this often; a busy hall would ask the database all the time. */
const gap = 200;
/** Looks without being told, in case the news were lost on their way. */
const lookEvery = 5_000;
const beatEvery = 15_000;
/** A device that has not taken this much is gone; it comes back from its cursor. */
const mostWaiting = 32_000_000;

export interface TillStream {
  readable: Readable;
  close(): void;
}

/**
 * The live news of one till as server-sent events. "goods" carries what changed since `after`, with
 * the next cursor as its id; "scene" says that the sale, the goods of the guild or the cashiers may
 * have changed; "beat" that the line still stands; "gone" that the device counts for nothing more.
 * The first two come once at the start, so that nothing is missed between two streams.
 */
export function openTillStream(
  db: Database,
  news: TillNews,
  till: KnownDevice,
  after: string,
): TillStream {
  const out = new PassThrough();
  const write = (text: string) => {
    if (out.writableEnded || out.destroyed) return;
    out.write(text);
    if (out.writableLength > mostWaiting) out.destroy();
  };
  const look = teller(db, till, after, write);
  const timers = [
    setInterval(wake, lookEvery).unref(),
    setInterval(() => write(eventText("beat", "{}")), beatEvery).unref(),
  ];
  const forget = news.listen(wake);
  let closed = false;
  let busy = false;
  let wanted = false;

  function wake(): void {
    wanted = true;
    if (busy || closed) return;
    busy = true;
    work()
      .catch(() => close())
      .finally(() => {
        busy = false;
      });
  }

  async function work(): Promise<void> {
    while (wanted && !closed) {
      wanted = false;
      if (!(await look())) return close();
      await wait(gap, undefined, { ref: false });
    }
  }

  function close(): void {
    if (closed) return;
    closed = true;
    forget();
    for (const timer of timers) clearInterval(timer);
    out.end();
  }

  out.on("close", close);
  write("retry: 2000\n\n");
  wake();
  return { readable: out, close };
}

const eventText = (name: string, data: string, id?: string): string =>
  `${id === undefined ? "" : `id: ${id}\n`}event: ${name}\ndata: ${data}\n\n`;

/** Writes what is new; false when the device is no till any more. */
function teller(db: Database, till: KnownDevice, after: string, write: (text: string) => void) {
  let cursor = after;
  let told = "";
  let scene = "";
  return async (): Promise<boolean> => {
    const now = await readDeviceScene(db, till.tillId);
    if (!now) {
      write(eventText("gone", "{}"));
      return false;
    }
    if (scene !== sceneMark(now)) write(eventText("scene", "{}"));
    scene = sceneMark(now);
    const found = await readChanges(db, till.saleId, cursor);
    // While an old transaction stays open, the same items come out of every look.
    const mark = createHash("sha256").update(found.items).digest("hex");
    if (told === "" || (found.count > 0 && mark !== told))
      write(eventText("goods", catalogueJson(found), found.cursor));
    told = mark;
    cursor = found.cursor;
    return true;
  };
}
