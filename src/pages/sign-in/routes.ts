import { z } from "zod";
import { endSessions } from "../../actions/sessions.ts";
import { signIn } from "../../actions/sign-in.ts";
import { begin, forgetCookies, rememberCookies } from "../../plugins/session/index.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { isId } from "../want-id.ts";
import { knownDevice, rememberDevice } from "./known-device.ts";

const form = z.strictObject({
  identifier: z.string().trim().min(1, "Give your e-mail or member number").max(200),
  passphrase: z.string().min(1, "Give your pass phrase").max(1024),
  next: z.string().default("/"),
});

/**
 * Only a path of our own: an address such as //elsewhere would carry people off the site, and a
 * header holds plain signs only.
 */
const ownPath = (next: unknown): string =>
  typeof next === "string" && /^\/(?!\/)[!-[\]-~]+$/.test(next) ? next : "/";

/** What the device keeps of a person's typing goes with the person. */
const whoLeft = (left: unknown) =>
  typeof left === "string" && isId(left) ? { left, scripts: ["drafts.js"] } : {};

const page = (request: Request, more: object = {}) => ({
  title: "Sign in",
  layout: "bare" as const,
  values: { next: ownPath((request.query as { next?: string }).next) },
  ...whoLeft((request.query as { left?: string }).left),
  ...more,
});

function refused(request: Request, reply: Reply, values: object, problem: Problem) {
  request.log.warn({ code: problem.code }, "sign-in refused");
  return reply.page("sign-in/form", page(request, { values, problem }), problem.status);
}

export async function signInPages(app: App): Promise<void> {
  app.get("/sign-in", { config: { access: "public" } }, async (request, reply) =>
    request.actor ? reply.redirect("/", 303) : reply.page("sign-in/form", page(request)),
  );

  app.post("/sign-in", { config: { access: "public" } }, async (request, reply) => {
    const { passphrase: _secret, ...shown } = (request.body ?? {}) as Record<string, unknown>;
    const read = readForm(form, request.body);
    if (!read.ok) return refused(request, reply, shown, read.problem);
    const source = { source: request.ip, knownDevice: knownDevice(request), now: app.now() };
    const result = await signIn(app.parts.db, { ...read.value, ...source });
    if (!result.ok) return refused(request, reply, shown, result.problem);
    rememberCookies(request, reply, await begin(request, result.value.memberId));
    rememberDevice(request, reply, result.value.memberId);
    return reply.redirect(ownPath(read.value.next), 303);
  });

  app.post("/sign-out", { config: { access: "signed-in" } }, async (request, reply) => {
    if (request.signedIn)
      await endSessions(
        app.parts.db,
        request.who(),
        { only: request.signedIn.sessionId },
        app.now(),
      );
    forgetCookies(request, reply);
    return reply.redirect(`/sign-in?left=${request.who().id}`, 303);
  });
}
