import { z } from "zod";
import { endSessions } from "../actions/sessions.ts";
import { signIn } from "../actions/sign-in.ts";
import { orRefuse, RefusedRequest } from "../plugins/errors.ts";
import { begin, renew } from "../plugins/session/index.ts";
import type { App } from "../plugins/types.ts";
import { problem } from "../rules/problem.ts";
import { refusals, typed } from "./typed.ts";

const tokens = z.object({
  accessToken: z.string(),
  refreshToken: z.string().optional(),
  expiresIn: z.number().int(),
});
const me = z.object({
  id: z.uuid(),
  number: z.number().int(),
  name: z.string(),
  roles: z.array(z.string()),
});

export async function sessionApi(app: App): Promise<void> {
  const route = typed(app);

  route.post("/session", {
    config: { access: "public", keyless: true },
    schema: {
      tags: ["session"],
      summary: "Sign in with an e-mail or member number",
      security: [],
      body: z.strictObject({
        identifier: z.string().min(1).max(200),
        passphrase: z.string().min(1).max(1024),
      }),
      response: { 201: tokens, ...refusals },
    },
    handler: async (request, reply) => {
      const { memberId } = orRefuse(
        await signIn(app.parts.db, { ...request.body, source: request.ip, now: app.now() }),
      );
      const { sessionId: _inside, ...answer } = await begin(request as never, memberId);
      return reply.code(201).send(answer);
    },
  });

  route.post("/session/refresh", {
    config: { access: "public", keyless: true },
    schema: {
      tags: ["session"],
      summary: "Exchange a refresh token for new tokens",
      security: [],
      body: z.strictObject({ refreshToken: z.string().max(200) }),
      response: { 200: tokens, ...refusals },
    },
    handler: async (request) => {
      const renewed = await renew(app, request.body.refreshToken);
      if (!renewed)
        throw new RefusedRequest(
          problem("not-signed-in", "This refresh token is used up. Sign in again."),
        );
      const { sessionId: _inside, ...answer } = renewed;
      return answer;
    },
  });

  route.get("/session", {
    config: { access: "signed-in" },
    schema: { tags: ["session"], summary: "Who am I", response: { 200: me, ...refusals } },
    handler: async (request) => request.who(),
  });

  route.delete("/session", {
    config: { access: "signed-in", keyless: true },
    schema: {
      tags: ["session"],
      summary: "Sign out: the tokens end at once",
      response: { 204: z.null(), ...refusals },
    },
    handler: async (request, reply) => {
      if (request.signedIn)
        await endSessions(
          app.parts.db,
          request.who(),
          { only: request.signedIn.sessionId },
          app.now(),
        );
      return reply.code(204).send(null);
    },
  });
}
