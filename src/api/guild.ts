import { z } from "zod";
import { editGuild } from "../actions/edit-guild.ts";
import { guildChange, guildSettings } from "../contract/guild.ts";
import { orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import type { IdentityChoice } from "../rules/labels/label-setting.ts";
import type { Language } from "../rules/labels/language.ts";
import { refusals, typed } from "./typed.ts";

const shown = z.object(guildSettings.shape).extend({ version: z.number().int() });

export async function guildApi(app: App): Promise<void> {
  const route = typed(app);
  const present = async () => {
    const guild = await app.parts.db.guild.findFirstOrThrow();
    return {
      ...guild,
      secondPersonAbove: guild.secondPersonAbove === null ? null : Number(guild.secondPersonAbove),
      tagLength: guild.tagLength as 8 | 10,
      paper: guild.paper as "letter" | "a4",
      labelLanguages: guild.labelLanguages as Language[],
      labelIdentity: guild.labelIdentity as IdentityChoice,
    };
  };

  route.get("/guild", {
    config: { access: "signed-in" },
    schema: {
      tags: ["guild"],
      summary: "The guild and its settings",
      response: { 200: shown, ...refusals },
    },
    handler: present,
  });

  route.patch("/guild", {
    config: { access: ["chair"] },
    schema: {
      tags: ["guild"],
      summary: "Change the settings; currency and tag length only before the first item",
      body: guildChange,
      response: { 200: shown, ...refusals },
    },
    handler: async (request) => {
      orRefuse(await editGuild(request.deed(), request.body));
      return present();
    },
  });
}
