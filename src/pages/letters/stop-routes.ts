import { chooseByLink } from "../../actions/letters/choose-letters.ts";
import { openStopLink, type StopLink } from "../../actions/letters/stop-token.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { type LetterLanguage, letterLanguage } from "../../rules/letters/language.ts";
import { stopPageWords } from "../../rules/letters/letter-text.ts";

type WithToken = { Params: { token: string } };

/**
 * The link under each letter. Looking at it changes nothing, because mail programs look at links by
 * themselves; its one button does, and so does the POST of a mail program that knows RFC 8058. The
 * secret in the address is what lets it in: nobody signs in for this.
 */
export async function stopPages(app: App): Promise<void> {
  // RFC 8058 section 3.2 lets the request come as a form of either kind; what is in it says nothing.
  app.addContentTypeParser(
    "multipart/form-data",
    { parseAs: "string", bodyLimit: 10_000 },
    (_request, _body, done) => done(null, {}),
  );
  const look = { config: { access: "public" as const } };
  const act = { config: { access: "public" as const, linkIsKey: true } };

  app.get<WithToken>("/letters/stop/:token", look, async (request, reply) =>
    stopPage(request, reply, linkOf(request), "ask"),
  );

  // Both answer with a page and no redirect: RFC 8058 section 3.1 wants none.
  app.post<WithToken>("/letters/stop/:token", act, async (request, reply) =>
    stopPage(request, reply, await choose(request, false), "stopped"),
  );

  app.post<WithToken>("/letters/again/:token", act, async (request, reply) =>
    stopPage(request, reply, await choose(request, true), "back"),
  );
}

function linkOf(request: Request): StopLink {
  const { token } = request.params as WithToken["Params"];
  const link = openStopLink(request.server.parts.secret, token);
  if (!link) throw notFound("this link");
  return link;
}

const choose = async (request: Request, wanted: boolean): Promise<StopLink> => {
  const { db } = request.server.parts;
  return orRefuse(await chooseByLink({ db, requestId: request.id }, linkOf(request), wanted));
};

async function stopPage(
  request: Request,
  reply: Reply,
  { memberId, kind }: StopLink,
  step: "ask" | "stopped" | "back",
) {
  const { token } = request.params as WithToken["Params"];
  const language = await languageFor(request, memberId);
  const words = stopPageWords(language, kind);
  const [stop, again] = [`/letters/stop/${token}`, `/letters/again/${token}`];
  const shown = {
    ask: { title: words.title, text: words.ask, action: stop, label: words.button },
    stopped: {
      ...{ title: words.stopped, text: words.stoppedText, action: again, label: words.again },
      done: true,
    },
    back: {
      title: words.back,
      text: words.backText,
      action: stop,
      label: words.stopAgain,
      done: true,
    },
  };
  return reply.page("letters/stop", { layout: "bare", language, ...shown[step] });
}

async function languageFor(request: Request, memberId: string): Promise<LetterLanguage> {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const member = await db.member.findUnique({ where: { id: memberId } });
  if (!member) throw notFound("this link");
  return letterLanguage(member.language, guild.locale);
}
