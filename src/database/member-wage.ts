import type { Database } from "./client.ts";

/** What a member would like an hour to bring, or null when nothing is kept. */
export async function wageOf(db: Database, memberId: string): Promise<number | null> {
  const row = await db.memberWage.findUnique({ where: { memberId } });
  return row && Number(row.wage);
}
