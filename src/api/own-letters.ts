import { chooseLetters } from "../actions/letters/choose-letters.ts";
import { lettersShape, ownLettersShown } from "../contract/letters.ts";
import { ownLetters } from "../database/letters/own-letters.ts";
import { orRefuse } from "../plugins/errors.ts";
import { sendsLetters } from "../plugins/sends-letters.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const config = { access: "signed-in" as const };
const tags = ["letters"];

/** A member's own choice of letters; there is no way to ask for anybody else's. */
export async function ownLetterApi(app: App): Promise<void> {
  const route = typed(app);
  const { db, settings } = app.parts;

  const shown = async (memberId: string) => {
    const { letters, language, writtenIn } = await ownLetters(db, memberId);
    return { letters, language, writtenIn, sent: sendsLetters(settings) };
  };

  route.get("/me/letters", {
    config,
    schema: {
      tags,
      summary: "Which letters I get by e-mail, and in what language",
      response: { 200: ownLettersShown, ...refusals },
    },
    handler: async (request) => shown(request.who().id),
  });

  route.put("/me/letters", {
    config,
    schema: {
      tags,
      summary: "Choose which letters to get, and in what language; null is the guild's",
      body: lettersShape,
      response: { 200: ownLettersShown, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await chooseLetters(request.deed(), request.body));
      return shown(request.who().id);
    },
  });
}
