import cookie from "@fastify/cookie";
import jwt from "@fastify/jwt";
import fastifyPlugin from "fastify-plugin";
import { renewSession, sessionDays, startSession } from "../../actions/sessions.ts";
import { actorOfSession } from "../../database/sessions.ts";
import { problem } from "../../rules/problem.ts";
import { RefusedRequest } from "../errors.ts";
import type { App, Reply, Request } from "../types.ts";
import { clearCookie, readCookie, writeCookie } from "./cookies.ts";
import { hashToken, randomToken } from "./tokens.ts";

const minutes = 10;
const tokenType = "thrumbook-access+jwt";

export interface Tokens {
  accessToken: string;
  refreshToken: string;
  expiresIn: number;
}

interface Claims {
  sub: string;
  sid: string;
}

/**
 * Short access tokens, each tied to a session row that is looked up at every request. The
 * algorithm, issuer, audience and type are pinned, so that no other token can pass for one.
 */
export const session = fastifyPlugin(
  async (app) => {
    await app.register(cookie);
    await app.register(jwt, {
      secret: app.parts.secret,
      sign: {
        algorithm: "HS256",
        iss: "thrumbook",
        aud: "thrumbook",
        expiresIn: `${minutes}m`,
        header: { typ: tokenType, alg: "HS256" },
      },
      verify: {
        algorithms: ["HS256"],
        allowedIss: "thrumbook",
        allowedAud: "thrumbook",
        checkTyp: tokenType,
        requiredClaims: ["sub", "sid", "exp"],
        cache: false,
      },
    } as Parameters<typeof jwt>[1]);
    app.decorateRequest("actor", null);
    app.decorateRequest("signedIn", null);
    app.decorateRequest("who", who);
    app.decorateRequest("deed", deed);
    app.addHook("onRequest", recognise);
  },
  { name: "session" },
);

function who(this: Request) {
  if (!this.actor) throw new Error("A route that needs a person was left open to the public.");
  return this.actor;
}

function deed(this: Request) {
  const key = keyOf(this);
  const deed = { db: this.server.parts.db, actor: this.who(), requestId: this.id };
  return key === undefined ? deed : { ...deed, key };
}

/** The key of an API call stands in quotes, that of a form is bare; an index holds no long ones. */
function keyOf({ headers, body }: Request): string | undefined {
  const given = headers["idempotency-key"] ?? (body as { _key?: unknown } | null)?._key;
  if (given === undefined || given === "") return undefined;
  const key = typeof given === "string" ? /^"?([!#-~]{1,100})"?$/.exec(given)?.[1] : undefined;
  if (key !== undefined) return key;
  throw new RefusedRequest(
    problem("invalid-input", "The key of this request cannot be used. Load the page again."),
  );
}

async function recognise(request: Request, reply: Reply): Promise<void> {
  const bearer = /^Bearer ([\w.-]+)$/.exec(request.headers.authorization ?? "")?.[1];
  if (bearer) return adopt(request, bearer, "bearer");
  const access = readCookie(request, "access");
  if (access) await adopt(request, access, "cookie");
  if (!request.actor && readCookie(request, "refresh")) await renewByCookie(request, reply);
}

async function adopt(request: Request, token: string, by: "cookie" | "bearer"): Promise<void> {
  const claims = verified(request.server, token);
  if (claims) await adoptSession(request, claims.sid, by);
}

function verified(app: App, token: string): Claims | undefined {
  try {
    return app.jwt.verify<Claims>(token);
  } catch {
    return undefined;
  }
}

async function adoptSession(
  request: Request,
  sessionId: string,
  by: "cookie" | "bearer",
): Promise<void> {
  request.actor = await actorOfSession(request.server.parts.db, sessionId, request.server.now());
  if (request.actor) request.signedIn = { sessionId, by };
}

/** A page asked for with an old access cookie renews it on the way, unnoticed by the person. */
async function renewByCookie(request: Request, reply: Reply): Promise<void> {
  const renewed = await renew(request.server, readCookie(request, "refresh") ?? "");
  if (!renewed) return forgetCookies(request, reply);
  writeCookie(request, reply, "access", renewed.accessToken, minutes * 60);
  if (renewed.refreshToken)
    writeCookie(request, reply, "refresh", renewed.refreshToken, sessionDays * 86_400);
  await adoptSession(request, renewed.sessionId, "cookie");
}

/** Renews a session; within the grace the other tab already holds the new refresh token. */
export async function renew(app: App, refreshToken: string) {
  const next = randomToken();
  const found = await renewSession(app.parts.db, {
    refreshHash: hashToken(refreshToken),
    nextHash: hashToken(next),
    now: app.now(),
  });
  if (!found.ok) return undefined;
  const { sessionId, memberId, replaced } = found.value;
  return {
    sessionId,
    accessToken: accessToken(app, memberId, sessionId),
    refreshToken: replaced ? next : undefined,
    expiresIn: minutes * 60,
  };
}

const accessToken = (app: App, memberId: string, sessionId: string): string =>
  app.jwt.sign({ sub: memberId, sid: sessionId });

/** Starts a session after a sign-in: always a new one, so that none can be planted beforehand. */
export async function begin(
  request: Request,
  memberId: string,
): Promise<Tokens & { sessionId: string }> {
  const app = request.server;
  const refreshToken = randomToken();
  const device = request.headers["user-agent"] ?? "";
  const sessionId = await startSession(app.parts.db, {
    memberId,
    refreshHash: hashToken(refreshToken),
    device,
    now: app.now(),
  });
  return {
    sessionId,
    accessToken: accessToken(app, memberId, sessionId),
    refreshToken,
    expiresIn: minutes * 60,
  };
}

export function rememberCookies(request: Request, reply: Reply, tokens: Tokens): void {
  writeCookie(request, reply, "access", tokens.accessToken, minutes * 60);
  writeCookie(request, reply, "refresh", tokens.refreshToken, sessionDays * 86_400);
}

export function forgetCookies(request: Request, reply: Reply): void {
  clearCookie(request, reply, "access");
  clearCookie(request, reply, "refresh");
}
