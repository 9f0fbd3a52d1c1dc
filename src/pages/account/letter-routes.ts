import { chooseLetters } from "../../actions/letters/choose-letters.ts";
import { lettersShape } from "../../contract/letters.ts";
import { ownLetters } from "../../database/letters/own-letters.ts";
import { sendsLetters } from "../../plugins/sends-letters.ts";
import type { App, Request } from "../../plugins/types.ts";
import { letterKinds } from "../../rules/letters/kinds.ts";
import { languageNames, letterLanguages } from "../../rules/letters/language.ts";
import type { Problem } from "../../rules/problem.ts";
import { type Fields, textOf, ticked } from "../items/fields.ts";
import { kindWords } from "../letters/words.ts";
import { readForm } from "../read-form.ts";

/** Which letters a member gets, and in what language. */
export async function letterChoicePages(app: App): Promise<void> {
  const mine = { config: { access: "signed-in" as const } };

  app.get("/account/letters", mine, async (request, reply) =>
    reply.page("account/letters", await lettersPage(request)),
  );

  app.post("/account/letters", mine, async (request, reply) => {
    const fields = request.body as Fields;
    const read = readForm(lettersShape, {
      letters: Object.fromEntries(letterKinds.map((kind) => [kind, ticked(fields, kind)])),
      language: textOf(fields, "language") || null,
    });
    const chosen = read.ok ? await chooseLetters(request.deed(), read.value) : read;
    if (!chosen.ok) {
      const page = await lettersPage(request, chosen.problem);
      return reply.page("account/letters", page, chosen.problem.status);
    }
    return reply.seeOther("/account/letters", { kind: "good", text: "Your choice is kept." });
  });
}

async function lettersPage(request: Request, problem?: Problem) {
  const { db, settings } = request.server.parts;
  const own = await ownLetters(db, request.who().id);
  const typed = (request.body ?? {}) as Fields;
  const kept = { ...own.letters, language: own.language ?? "" };
  return {
    title: "Letters by e-mail",
    problem,
    values: problem ? typed : kept,
    noMail: !sendsLetters(settings),
    address: own.email,
    kinds: letterKinds.map((kind) => ({ kind, ...kindWords[kind] })),
    guildLanguage: `The guild's: ${languageNames[own.guildLanguage]}`,
    languages: letterLanguages.map((one) => ({ value: one, label: languageNames[one] })),
  };
}
