import { openAskReceipt } from "../carry/ask-receipt.ts";
import { openLive } from "../carry/live.ts";
import { openPull } from "../carry/pull.ts";
import { openPush } from "../carry/push.ts";
import type { Ask } from "../carry/server.ts";
import type { Line } from "../parts.ts";
import type { Kept } from "./open-parts.ts";

/** No buyer waits longer than this for the other tills. */
const checkWithin = 1_200;
const lookForRoomEvery = 30_000;

/** Starts everything that runs between this till and the server, and keeps it going. */
export function startCarrying(kept: Kept, ask: Ask): Line {
  const { goods, outbox, scene, state, shelfName } = kept;
  const pull = openPull({ goods, scene, state, ask });
  const sent = () => void pull.goods();
  const push = openPush({ shelfName, outbox, goods, state, ask, sent });
  openLive({ cursor: goods.cursor, pull, state });
  const now = () => void push.now();
  outbox.onRecord(now);
  addEventListener("online", now);
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "visible") now();
  });
  setInterval(() => {
    if (outbox.refusal() !== undefined) void outbox.lookForRoom();
  }, lookForRoomEvery);
  now();
  return {
    async checkTags(tags) {
      if (!(await inTime(pull.goods(), checkWithin))) return undefined;
      return tags.flatMap((tag) => goods.find(tag) ?? []).filter(({ state: is }) => is === "sold");
    },
    askReceipt: openAskReceipt(ask),
  };
}

const inTime = (work: Promise<boolean>, within: number): Promise<boolean> =>
  Promise.race([work, new Promise<boolean>((late) => setTimeout(() => late(false), within))]);
