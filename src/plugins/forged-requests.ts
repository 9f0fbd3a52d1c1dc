import fastifyPlugin from "fastify-plugin";
import { problem } from "../rules/problem.ts";
import { RefusedRequest } from "./errors.ts";
import { readCookie, writeCookie } from "./session/cookies.ts";
import { formToken, randomToken, sameText } from "./session/tokens.ts";
import { isApi, type Reply, type Request } from "./types.ts";

declare module "fastify" {
  interface FastifyRequest {
    /** Belongs in every form of this page and in the X-Form-Token header of its scripts. */
    formToken: string;
  }
}

const safeMethods = new Set(["GET", "HEAD", "OPTIONS"]);

/**
 * Guards against requests that another site makes a browser send (CSRF). Three checks: where the
 * browser says the request comes from, the Origin where it does not say, and a token of the form.
 * A bearer token is never sent by a browser on its own, so those requests need no guard.
 */
export const forgedRequests = fastifyPlugin(
  async (app) => {
    app.decorateRequest("formToken", "");
    app.addHook("onRequest", async (request, reply) => {
      if (request.signedIn?.by === "bearer") return;
      request.formToken = formToken(app.parts.secret, ownerOf(request, reply));
    });
    app.addHook("preHandler", async (request) => {
      if (safeMethods.has(request.method) || request.signedIn?.by === "bearer") return;
      if (request.routeOptions.config.linkIsKey) return;
      const carries = holdsNoToken(request) ? isJson(request) : carriesToken(request);
      if (!comesFromHere(request) || !carries) throw new RefusedRequest(expired());
    });
  },
  { name: "forged-requests", dependencies: ["session"] },
);

function ownerOf(request: Request, reply: Reply): string {
  if (request.signedIn) return request.signedIn.sessionId;
  const visitor = readCookie(request, "visitor");
  if (visitor) return visitor;
  const fresh = randomToken();
  if (request.method === "GET") writeCookie(request, reply, "visitor", fresh, 86_400);
  return fresh;
}

function comesFromHere(request: Request): boolean {
  const site = request.headers["sec-fetch-site"];
  if (typeof site === "string") return site === "same-origin" || site === "none";
  const origin = request.headers.origin;
  if (!origin) return true;
  return URL.canParse(origin) && new URL(origin).host === request.host;
}

/** The page of a till is kept on the device for days, longer than any form token counts. */
function holdsNoToken({ routeOptions: { config } }: Request): boolean {
  return config.access === "till" || config.tokenless === true;
}

/** A form of another site cannot send JSON: for that its browser would have to ask us first. */
const isJson = ({ headers }: Request): boolean =>
  /^application\/json\s*(;|$)/i.test(headers["content-type"] ?? "");

function carriesToken(request: Request): boolean {
  // Signing in over the API starts without any cookie, so nothing can be forged with it.
  if (!request.signedIn && isApi(request.url)) return true;
  const inBody = (request.body as { _csrf?: unknown } | null | undefined)?._csrf;
  const given = request.headers["x-form-token"] ?? inBody;
  return typeof given === "string" && sameText(given, request.formToken);
}

const expired = () =>
  problem(
    "form-expired",
    "Nothing was recorded. Go back, load the page again and send it once more.",
  );
