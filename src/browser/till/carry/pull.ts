import type { CatalogueDelta, TillSceneShown } from "../../../contract/till-device.ts";
import type { KeptGoods } from "../keep/goods.ts";
import type { KeptScene } from "../keep/scene.ts";
import type { Ask, Reply } from "./server.ts";
import type { KeptState } from "./state.ts";

export interface Pull {
  /** Brings the list up to the moment of this call or later; true when it is. */
  goods(): Promise<boolean>;
  scene(): Promise<boolean>;
  /** A part of the list that came by itself; whatever it may leave out is asked for. */
  came(delta: unknown): Promise<void>;
}

export interface PullParts {
  goods: KeptGoods;
  scene: KeptScene;
  state: KeptState;
  ask: Ask;
}

/** 50,000 tags over the wifi of a hall. */
const wholeListWait = 120_000;

export function openPull({ goods, scene, state, ask }: PullParts): Pull {
  let running: Promise<boolean> | undefined;
  let next: Promise<boolean> | undefined;

  async function fetchGoods(): Promise<boolean> {
    const after = goods.cursor();
    // What is answered before the question is asked is counted by the answer.
    const counted = goods.answeredReceipts();
    const path = `/api/till/catalogue${after === undefined ? "" : `?after=${after}`}`;
    const reply = heard(await ask(path, after === undefined ? { within: wholeListWait } : {}));
    if (!reply || !isDelta(reply.body)) return false;
    return tried(goods.apply(reply.body, counted));
  }

  /** Every reply tells how the till stands with the server. */
  function heard(reply: Reply): { body: unknown } | undefined {
    if (reply.kind === "silent") state.change({ online: false });
    else state.contact();
    if (reply.kind !== "silent")
      state.trouble("pull", reply.kind === "refused" ? reply : undefined);
    return reply.kind === "answer" ? reply : undefined;
  }

  const pull: Pull = {
    goods() {
      // A question that is on its way may have been asked before what the caller wants to know.
      next ??= (running ?? Promise.resolve()).then(() => {
        next = undefined;
        running = fetchGoods().finally(() => {
          running = undefined;
        });
        return running;
      });
      return next;
    },
    async scene() {
      const reply = heard(await ask("/api/till/scene"));
      if (!reply) return false;
      return tried(scene.keep(reply.body as TillSceneShown));
    },
    async came(delta) {
      const cursor = goods.cursor();
      // Parts that cross on their way could put an older state over a newer one.
      const follows =
        !running && isDelta(delta) && cursor !== undefined && isLater(delta.cursor, cursor);
      if (!follows || !(await tried(goods.apply(delta, [])))) await pull.goods();
      else state.contact();
    },
  };
  return pull;
}

/** A device that stores no list still sells by the one in memory; the next try may work. */
const tried = (storing: Promise<void>): Promise<boolean> =>
  storing.then(
    () => true,
    () => false,
  );

const isLater = (cursor: string, than: string): boolean => BigInt(cursor) > BigInt(than);

function isDelta(body: unknown): body is CatalogueDelta {
  const { cursor, items } = (body ?? {}) as Partial<CatalogueDelta>;
  return typeof cursor === "string" && /^\d+$/.test(cursor) && Array.isArray(items);
}
