import type { Database } from "./client.ts";

/** The kinds of goods in the guild's own order; retired ones only when asked for. */
export const listKinds = (db: Database, { retired = false }: { retired?: boolean } = {}) =>
  db.kind.findMany({
    where: retired ? {} : { active: true },
    orderBy: [{ position: "asc" }, { id: "asc" }],
  });
