import type { KeptGoods } from "../keep/goods.ts";
import type { KeptOutbox } from "../keep/outbox.ts";
import { waitBefore } from "./back-off.ts";
import type { Ask, Reply } from "./server.ts";
import type { KeptState, Refusal } from "./state.ts";

export interface Push {
  /** Sends what waits, now; the promise ends when nothing waits or the way is shut. */
  now(): Promise<void>;
  stop(): void;
}

export interface PushParts {
  shelfName: string;
  outbox: KeptOutbox;
  goods: KeptGoods;
  state: KeptState;
  ask: Ask;
  /** After entries went out: what the server made of them comes with the next list. */
  sent(): void;
  /** Runs work under a lock of the browser, or not at all while another tab holds it. */
  alone?: (name: string, work: () => Promise<void>) => Promise<void>;
}

/** Small enough for a slow line, large enough for a day off line to go out within minutes. */
const mostAtOnce = 20;

/**
 * Empties the outbox, oldest first. An entry leaves it only when the server names its id; a
 * refusal, a lost answer or silence keeps everything, and only changes when the next try is.
 */
export function openPush(parts: PushParts): Push {
  const { outbox, alone = underLock } = parts;
  let failed = 0;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let running: Promise<void> | undefined;
  let again = false;
  let stopped = false;

  async function round(): Promise<void> {
    do {
      again = false;
      await alone(`push-${parts.shelfName}`, async () => {
        if (await sendAll(parts, () => stopped)) failed = 0;
      });
    } while (again && !stopped);
    clearTimeout(timer);
    if (stopped || outbox.unsent() === 0) return;
    failed += 1;
    timer = setTimeout(() => void now(), waitBefore(failed));
  }

  function now(): Promise<void> {
    again = true;
    running ??= round().finally(() => {
      running = undefined;
    });
    return running;
  }

  return {
    now,
    stop() {
      stopped = true;
      clearTimeout(timer);
    },
  };
}

/** Sends until nothing waits or nothing goes any more; true when something went. */
async function sendAll(parts: PushParts, stopped: () => boolean): Promise<boolean> {
  let most = mostAtOnce;
  let went = false;
  while (!stopped() && parts.outbox.unsent() > 0) {
    const outcome = await sendOldest(parts, most);
    if (outcome === "out") went = true;
    // A whole lot is refused for one entry in it: one by one, the good ones before it go out.
    else if (outcome === "refused" && most > 1) most = 1;
    else break;
  }
  return went;
}

/** "out" when something went, so that it is worth going on at once. */
async function sendOldest(
  { outbox, goods, state, ask, sent }: PushParts,
  most: number,
): Promise<"out" | "refused" | "kept"> {
  const entries = await outbox.oldest(most);
  if (entries.length === 0) return "kept";
  const reply = await ask("/api/till/outbox", { body: { entries } });
  if (reply.kind === "silent") {
    state.change({ online: false });
    return "kept";
  }
  state.contact();
  const waiting = new Set(entries.map(({ body }) => body.id));
  const answered = answeredIds(reply).filter((id) => waiting.has(id));
  state.trouble("push", answered.length < waiting.size ? troubleOf(reply) : undefined);
  if (answered.length === 0) return reply.kind === "refused" ? "refused" : "kept";
  await outbox.answered(answered);
  goods.answered(answered);
  sent();
  return "out";
}

function answeredIds(reply: Reply & { kind: "answer" | "refused" }): string[] {
  const { answers } = (reply.body ?? {}) as { answers?: { id?: unknown }[] };
  if (!Array.isArray(answers)) return [];
  return answers.map(({ id }) => id).filter((id): id is string => typeof id === "string");
}

function troubleOf(reply: Reply & { kind: "answer" | "refused" }): Refusal {
  const { problem } = (reply.body ?? {}) as { problem?: Partial<Refusal> };
  const { code = "", detail } = reply.kind === "refused" ? reply : (problem ?? {});
  return { code, detail: detail || unexplained };
}

const unexplained =
  "The server did not take a receipt and did not say why. It is kept here and sent again.";

async function underLock(name: string, work: () => Promise<void>): Promise<void> {
  await navigator.locks.request(name, { ifAvailable: true }, async (lock) => {
    if (lock) await work();
  });
}
