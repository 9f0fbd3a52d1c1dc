import fastifyPlugin from "fastify-plugin";
import { noteStatus } from "../actions/note-status.ts";
import { type TillStatus, tillStatus } from "../contract/till-device.ts";
import { deviceOfToken, type KnownDevice } from "../database/till-devices.ts";
import { readCookie, writeCookie } from "./session/cookies.ts";
import { hashToken } from "./session/tokens.ts";
import type { Reply, Request } from "./types.ts";

/** The longest that browsers keep a cookie; a till is used for a weekend. */
const days = 400;

/**
 * Knows the till by the cookie of its device, for the routes that are a till's. The row is read at
 * every request, so that a device noted as lost is shut out at once.
 */
export const tillDevice = fastifyPlugin(
  async (app) => {
    app.decorateRequest("till", null);
    app.addHook("onRequest", async (request) => {
      if (request.routeOptions.config.access === "till") await recognise(request);
    });
  },
  { name: "till-device", dependencies: ["session"] },
);

async function recognise(request: Request): Promise<void> {
  const token = readCookie(request, "till");
  if (!token) return;
  const { db } = request.server.parts;
  request.till = (await deviceOfToken(db, hashToken(token))) ?? null;
  if (request.till) await noteStatus(db, request.till, statusOf(request), request.server.now());
}

/** What the till says of itself beside its question; what cannot be read says nothing. */
function statusOf(request: Request): TillStatus | undefined {
  const text = request.headers["x-till-status"];
  if (typeof text !== "string" || text.length > 200) return undefined;
  try {
    return tillStatus.safeParse(JSON.parse(text)).data;
  } catch {
    return undefined;
  }
}

/** Milliseconds by which the clock of the asking till is ahead of ours; 0 when it said nothing. */
export function clockAheadOf(request: Request): number {
  const clock = statusOf(request)?.clock;
  return clock === undefined ? 0 : Date.parse(clock) - request.server.now().getTime();
}

/** The till that asks; a route with access "till" always has one. */
export function tillOf({ till }: Pick<Request, "till">): KnownDevice {
  if (!till) throw new Error("A route of the tills was left open to others.");
  return till;
}

/** Notes what the till says in a body of its own. */
export const noteSaid = (request: Request, said: TillStatus): Promise<void> =>
  noteStatus(request.server.parts.db, tillOf(request), said, request.server.now());

export const rememberTill = (request: Request, reply: Reply, token: string): void =>
  writeCookie(request, reply, "till", token, days * 86_400);
