import { openPush } from "../../../src/browser/till/carry/push.ts";
import { askServer, type Reply } from "../../../src/browser/till/carry/server.ts";
import type { Unnumbered } from "../../../src/browser/till/sell/sale-fact.ts";
import { openKept } from "../../../src/browser/till/start/open-parts.ts";
import type { TillSceneShown } from "../../../src/contract/till-device.ts";
import type { TestApp } from "../../support/app.ts";
import type { BuiltPiece } from "../../support/build-till.ts";
import { deviceOf, type Hall } from "../../support/till-device.ts";
import { lineOf, saleFact } from "../../support/till-facts.ts";
import { freshName } from "./till-shelf.ts";

/** A till with its own outbox and its own way of sending, without a screen, that sells to a real server. */
export async function tillOnLine(
  base: TestApp,
  hall: Hall,
  till: Hall["tills"][number],
  address: string,
) {
  const { cookie } = await deviceOf(base, hall, till);
  const kept = await openKept(freshName(), () => {});
  const replies: Reply[] = [];
  // A connection for each question, so that each has a fate of its own.
  const headers = { cookie, connection: "close", "sec-fetch-site": "same-origin" };
  const send = (path: string, options: RequestInit) =>
    fetch(address + path, { ...options, headers: { ...options.headers, ...headers } });
  const status = () => ({ unsent: kept.outbox.unsent(), lastNumber: kept.outbox.lastNumber() });
  const ask = askServer(status, send as typeof fetch, kept.state.clock);
  const scene = await ask("/api/till/scene");
  if (scene.kind !== "answer") throw new Error("The server does not know the till.");
  await kept.scene.keep(scene.body as TillSceneShown);
  const push = openPush({
    ...kept,
    sent: () => {},
    alone: (_name, work) => work(),
    ask: async (path, question) => {
      const reply = await ask(path, question);
      replies.push(reply);
      return reply;
    },
  });
  return {
    ...kept,
    push,
    /** What came back from the server, in order. */
    replies,
    /** Sells a piece for cash, as a cashier does whatever the line is like. */
    async sell(piece: BuiltPiece): Promise<string> {
      const { number: _taken, ...fact } = saleFact(hall, till, 1, [lineOf(piece)]);
      const [stored] = await kept.outbox.record([fact satisfies Unnumbered]);
      return stored!.id;
    },
  };
}
