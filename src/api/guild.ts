import { z } from "zod";
import { guildShape } from "../contract/guild.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const shown = z.object(guildShape.shape).extend({ version: z.number().int() });

export async function guildApi(app: App): Promise<void> {
  typed(app).get("/guild", {
    config: { access: "signed-in" },
    schema: {
      tags: ["guild"],
      summary: "The guild and its settings",
      response: { 200: shown, ...refusals },
    },
    handler: async () => {
      const guild = await app.parts.db.guild.findFirstOrThrow();
      return {
        ...guild,
        tagLength: guild.tagLength as 8 | 10,
        paper: guild.paper as "letter" | "a4",
      };
    },
  });
}
