import { type AuditRead, listAudits } from "../../database/audits.ts";
import type { App } from "../../plugins/types.ts";
import { type Region, whenText } from "../format.ts";
import { guildPlaces } from "../guild/places.ts";
import { nextHref, searchOf } from "../want-id.ts";
import { detailWords, words } from "./words.ts";

type Query = { Querystring: { q?: string; after?: string } };

/** Who did what and when: every deed that changed something, never changed itself. */
export async function auditPages(app: App): Promise<void> {
  const readers = { config: { access: ["chair", "treasurer"] as const } };

  app.get<Query>("/audit", readers, async (request, reply) => {
    const { after } = request.query;
    const q = searchOf(request.query.q);
    const { db } = app.parts;
    const found = await listAudits(db, { q, after: after && String(after), limit: 50 });
    const guild = await db.guild.findFirstOrThrow();
    return reply.page("audit/audit", {
      title: "Who did what",
      q,
      places: request.who().roles.includes("chair") ? guildPlaces("/audit") : null,
      next: nextHref("/audit", found.next, { q }),
      rows: found.items.map((row) => shown(row, guild)),
    });
  });
}

const shown = ({ deed, by, at, detail }: AuditRead, guild: Region & { currency: string }) => ({
  when: whenText(at, guild),
  who: by ? `${by.name} (${by.number})` : "the service itself",
  what: words(deed),
  detail: detailWords(detail, guild),
});
