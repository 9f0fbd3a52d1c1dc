import { z } from "zod";
import { editGuild } from "../../actions/edit-guild.ts";
import { labelSettingsShape } from "../../contract/label-settings.ts";
import { versionNumber } from "../../contract/version.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Language } from "../../rules/labels/language.ts";
import { packs } from "../../rules/labels/packs/index.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { guildPlaces } from "./places.ts";

const chair = { config: { access: ["chair"] as const } };

/** One ticked box arrives as a text, several as a list, none not at all. */
const form = labelSettingsShape.extend({
  labelLanguages: z.preprocess(
    (value) => (value === undefined ? [] : [value].flat()),
    labelSettingsShape.shape.labelLanguages,
  ),
  careSymbols: z
    .literal("yes")
    .optional()
    .transform((text) => text === "yes"),
  version: z.coerce.number().pipe(versionNumber),
});

/** Whose rules the labels follow, in which languages, and whose name stands on them. */
export async function guildLabelPages(app: App): Promise<void> {
  app.get("/guild/labels", chair, async (request, reply) => {
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const values = {
      ...guild,
      careSymbols: guild.careSymbols ? "yes" : "",
      version: String(guild.version),
    };
    return reply.page("guild/labels", labelsPage(request, values));
  });

  app.post("/guild/labels", chair, async (request, reply) => {
    const read = readForm(form, request.body);
    const edited = read.ok ? await editGuild(request.deed(), read.value) : read;
    if (!edited.ok) {
      const page = labelsPage(request, request.body, edited.problem);
      return reply.page("guild/labels", page, edited.problem.status);
    }
    return reply.seeOther("/guild/labels", {
      kind: "good",
      text: "The change is kept. Tags whose words it changes count as out of date.",
    });
  });
}

const languageWords: Record<Language, string> = {
  "en-US": "English, American spelling",
  "en-GB": "English, British spelling",
  fr: "French",
  es: "Spanish",
  de: "German",
};

const labelsPage = (_request: Request, values: unknown, problem?: Problem) => ({
  title: "Labels",
  places: guildPlaces("/guild/labels"),
  packs: packs.map(({ code, name, law, languages, languageRule }) => ({
    value: code,
    label: name,
    hint: `${law}. ${languages.map((one) => languageWords[one]).join(", ")}: ${languageRule.words}`,
  })),
  languages: Object.entries(languageWords).map(([value, label]) => ({ value, label })),
  identities: [
    {
      value: "member",
      label: "The member's own business name",
      hint: "Each member types it under My account. Until then the guild's name stands in.",
    },
    { value: "guild", label: "The guild's name and address" },
    { value: "number", label: "The guild's registered number" },
  ],
  numbers: packs
    .flatMap(({ identity }) => (identity.number ? [identity.number.example] : []))
    .join(" or "),
  symbolNotes: packs.map(({ name, care }) => ({
    name,
    words: care.symbolNote.words,
    source: care.symbolNote.source,
  })),
  values,
  problem,
});
