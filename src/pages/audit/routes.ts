import { type AuditRead, listAudits } from "../../database/audits.ts";
import type { App } from "../../plugins/types.ts";
import { type Region, whenText } from "../format.ts";
import { guildPlaces } from "../guild/places.ts";
import { nextHref, searchOf } from "../want-id.ts";

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
      wide: true,
      q,
      places: request.who().roles.includes("chair") ? guildPlaces("/audit") : null,
      next: nextHref("/audit", found.next, { q }),
      rows: found.items.map((row) => shown(row, guild)),
    });
  });
}

const shown = ({ deed, by, at, detail }: AuditRead, region: Region) => ({
  when: whenText(at, region),
  who: by ? `${by.name} (${by.number})` : "the service itself",
  what: words(deed),
  detail: Object.entries(detail)
    .map(([name, value]) => `${words(name)}: ${valueText(value)}`)
    .join("; "),
});

/** "add-member" and "firstNumber" become "Add member" and "First number". */
function words(name: string): string {
  const spaced = name
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replaceAll("-", " ")
    .toLowerCase();
  return spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

function valueText(value: unknown): string {
  if (Array.isArray(value)) return value.map(valueText).join(", ");
  if (typeof value === "object" && value !== null) return JSON.stringify(value);
  return String(value);
}
