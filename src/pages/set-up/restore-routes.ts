import multipart from "@fastify/multipart";
import { z } from "zod";
import { findLink } from "../../actions/one-use-links.ts";
import {
  type RestoreAsked,
  type Restored,
  restoreSale,
} from "../../actions/restore/restore-sale.ts";
import { personShape } from "../../contract/guild.ts";
import { orRefuse, RefusedRequest } from "../../plugins/errors.ts";
import { begin, rememberCookies } from "../../plugins/session/index.ts";
import type { App, Request } from "../../plugins/types.ts";
import { largestArchive } from "../../rules/archive.ts";
import { type Problem, type Result, refuseField } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";

type WithToken = { Params: { token: string } };

const open = { config: { access: "public" as const } };
const limits = { fileSize: largestArchive, files: 1, fields: 6, fieldSize: 5_000, parts: 7 };

const restoreForm = z.strictObject({
  file: z.instanceof(Uint8Array, { message: "Choose the archive, a file that ends with .zip" }),
  number: z
    .string()
    .trim()
    .regex(/^\d{3,4}$/, "Give the chair's member number, three or four digits")
    .transform(Number),
  passphrase: personShape.shape.passphrase,
});

/** Instead of setting up a new guild: the archive of one that was, taken back. */
export async function restorePages(app: App): Promise<void> {
  // Before the body: only whoever holds the link of an empty service may send a file this large.
  app.addHook<WithToken>("onRequest", async (request) => {
    orRefuse(await findLink(app.parts.db, request.params.token, ["set-up"]));
  });
  await app.register(multipart, { attachFieldsToBody: "keyValues", limits });

  app.get<WithToken>("/set-up/:token/restore", open, async (request, reply) =>
    reply.page("set-up/restore", page(request, {})),
  );

  app.post<WithToken>("/set-up/:token/restore", open, async (request, reply) => {
    const done = await bring(app, request, request.params.token);
    if (!done.ok && done.problem.code !== "invalid-input") throw new RefusedRequest(done.problem);
    if (!done.ok) {
      const { number } = request.body as { number?: unknown };
      return reply.page("set-up/restore", page(request, { number }, done.problem), 400);
    }
    const { chairId, guildName, members } = done.value;
    rememberCookies(request, reply, await begin(request, chairId as string));
    const text = `${guildName} is back, with ${members} members and all its sales. Each of the others needs a link to sign in: open their page and make one.`;
    return reply.seeOther("/members", { kind: "good", text });
  });
}

async function bring(app: App, request: Request, token: string): Promise<Result<Restored>> {
  const read = readForm(restoreForm, request.body);
  if (!read.ok) return read;
  const { file: zip, number, passphrase } = read.value;
  if (zip.length === 0)
    return refuseField("file", "Choose the archive, a file that ends with .zip");
  const asked: RestoreAsked = { token, zip, chair: { number, passphrase }, requestId: request.id };
  return restoreSale(app.parts.db, asked);
}

const page = (request: Request, values: object, problem?: Problem) => ({
  title: "Take an archive back",
  layout: "bare" as const,
  action: request.url,
  newGuild: request.url.replace(/\/restore$/, ""),
  values,
  problem,
});
