import { z } from "zod";
import { choosePassphrase, findLink } from "../../actions/one-use-links.ts";
import { setUpGuild } from "../../actions/set-up-guild.ts";
import { guildShape, personShape } from "../../contract/guild.ts";
import { orRefuse, RefusedRequest } from "../../plugins/errors.ts";
import { begin, rememberCookies } from "../../plugins/session/index.ts";
import type { App, Request } from "../../plugins/types.ts";
import { currencies } from "../../rules/currency-table.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { restorePages } from "./restore-routes.ts";

type WithToken = { Params: { token: string } };

const setUpForm = z.strictObject({
  guildName: guildShape.shape.name,
  currency: guildShape.shape.currency,
  locale: guildShape.shape.locale,
  timeZone: guildShape.shape.timeZone,
  tagLength: z
    .enum(["8", "10"], "Choose 8 or 10 digits")
    .transform((text) => (text === "8" ? 8 : 10)),
  paper: guildShape.shape.paper,
  ...personShape.shape,
});

const choiceForm = z.strictObject({ passphrase: personShape.shape.passphrase });

/** What was typed comes back, except for the pass phrase. */
const shownAgain = (request: Request): object => {
  const { passphrase: _secret, ...rest } = (request.body ?? {}) as Record<string, unknown>;
  return rest;
};

export async function setUpPages(app: App): Promise<void> {
  const open = { config: { access: "public" as const } };
  await app.register(restorePages);

  app.get<WithToken>("/set-up/:token", open, async (request, reply) => {
    orRefuse(await findLink(app.parts.db, request.params.token, ["set-up"]));
    return reply.page(
      "set-up/guild",
      setUpPage(request, {
        currency: "USD",
        locale: "en-US",
        timeZone: "America/Chicago",
        tagLength: "8",
        paper: "letter",
      }),
    );
  });

  app.post<WithToken>("/set-up/:token", open, async (request, reply) => {
    const read = readForm(setUpForm, request.body);
    const refused = (problem: Problem) =>
      reply.page("set-up/guild", setUpPage(request, shownAgain(request), problem), problem.status);
    if (!read.ok) return refused(read.problem);
    const { name, email, passphrase, guildName, ...guild } = read.value;
    const made = await setUpGuild(app.parts.db, {
      token: request.params.token,
      guild: { ...guild, name: guildName, address: "", showMemberName: false },
      chair: { name, email, passphrase },
      requestId: request.id,
    });
    if (!made.ok && made.problem.code !== "invalid-input") throw new RefusedRequest(made.problem);
    if (!made.ok) return refused(made.problem);
    rememberCookies(request, reply, await begin(request, made.value.memberId));
    return reply.seeOther("/sales", {
      kind: "good",
      text: "The guild is set up. Next: plan its first sale.",
    });
  });

  app.get<WithToken>("/join/:token", open, async (request, reply) => {
    const link = orRefuse(
      await findLink(app.parts.db, request.params.token, ["invitation", "reset"]),
    );
    return reply.page("set-up/passphrase", joinPage(request, link.member));
  });

  app.post<WithToken>("/join/:token", open, async (request, reply) => {
    const { token } = request.params;
    const link = orRefuse(await findLink(app.parts.db, token, ["invitation", "reset"]));
    const read = readForm(choiceForm, request.body);
    const chosen = read.ok
      ? await choosePassphrase(app.parts.db, { token, ...read.value, requestId: request.id })
      : read;
    if (!chosen.ok)
      return reply.page(
        "set-up/passphrase",
        joinPage(request, link.member, chosen.problem),
        chosen.problem.status,
      );
    rememberCookies(request, reply, await begin(request, chosen.value.memberId));
    return reply.seeOther("/", {
      kind: "good",
      text: "Your pass phrase is set and you are signed in.",
    });
  });
}

const papers = [
  { value: "letter", label: "US Letter" },
  { value: "a4", label: "A4" },
];

const tagLengths = [
  { value: "8", label: "8 digits: up to 900 members, 999 tags each" },
  { value: "10", label: "10 digits: up to 9,000 members, 9,999 tags each" },
];

const setUpPage = (request: Request, values: object, problem?: Problem) => ({
  title: "Set up the guild",
  layout: "bare" as const,
  action: request.url,
  restore: `${request.url}/restore`,
  currencies: currencies.map(({ code }) => ({ value: code, label: code })),
  papers,
  tagLengths,
  values,
  problem,
});

const joinPage = (
  request: Request,
  member: { name: string; number: number } | null,
  problem?: Problem,
) => ({
  title: "Choose a pass phrase",
  layout: "bare" as const,
  action: request.url,
  name: member?.name,
  number: member?.number,
  problem,
});
