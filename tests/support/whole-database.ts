import type { Database } from "../../src/database/client.ts";

/** A fingerprint of the rows of every table: equal before and after when nothing was changed. */
export async function contentOf(
  db: Database,
  except: readonly string[] = [],
): Promise<Record<string, string>> {
  const rows = await db.$queryRaw<{ name: string; content: string }[]>`
    SELECT table_name AS name,
      (xpath('/row/content/text()', query_to_xml(format(
        'SELECT count(*) || '' rows '' || coalesce(md5(string_agg(r::text, ''|'' ORDER BY r::text)), '''') AS content FROM %I r',
        table_name), false, true, '')))[1]::text AS content
    FROM information_schema.tables
    WHERE table_schema = 'public' AND table_type = 'BASE TABLE'
    ORDER BY table_name`;
  const looked = rows.filter(({ name }) => !except.includes(name));
  return Object.fromEntries(looked.map(({ name, content }) => [name, content]));
}
