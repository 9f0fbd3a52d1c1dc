import fastifyPlugin from "fastify-plugin";
import { problem } from "../rules/problem.ts";
import { hasAny } from "../rules/roles.ts";
import { RefusedRequest } from "./errors.ts";
import type { Access, Request } from "./types.ts";

export interface RouteAccess {
  method: string;
  url: string;
  access: Access;
}

declare module "fastify" {
  interface FastifyInstance {
    /** Every route with who may use it: the access table and its test are made from this. */
    routeAccess: RouteAccess[];
  }
}

/**
 * Refuses by default: a route without `config.access` cannot be registered. Rows are guarded a
 * second time in the queries themselves, since a role alone does not say whose row it is.
 */
export const access = fastifyPlugin(
  async (app) => {
    const table: RouteAccess[] = [];
    app.decorate("routeAccess", table);
    app.addHook("onRoute", (route) => {
      const wanted = route.config?.access;
      if (!wanted) throw new Error(`${route.method} ${route.url} does not say who may use it.`);
      for (const method of [route.method].flat())
        table.push({ method, url: route.url, access: wanted });
    });
    // Before the body is read: a stranger's upload is not taken in, nor told what is wrong with it.
    app.addHook("onRequest", async (request) => check(request, request.routeOptions.config.access));
  },
  { name: "access", dependencies: ["session", "errors", "till-device"] },
);

const notATill =
  "This device is not enrolled as a till, or the chair has noted it as lost. What it recorded is kept on it. Ask the chair for a code.";

function check(request: Request, wanted: Access | undefined): void {
  if (wanted === undefined || wanted === "public") return;
  if (wanted === "till") {
    if (request.till) return;
    throw new RefusedRequest(problem("not-a-till", notATill));
  }
  if (!request.actor) throw new RefusedRequest(problem("not-signed-in", "Sign in and try again."));
  if (wanted === "signed-in" || hasAny(request.actor.roles, wanted)) return;
  throw new RefusedRequest(
    problem(
      "not-allowed",
      `This needs the role ${wanted.join(" or ")}. Ask the chair if you should have it.`,
    ),
  );
}
