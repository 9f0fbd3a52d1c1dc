import type { Transaction } from "../database/client.ts";
import { dayIn } from "../rules/day.ts";

/** The day on the guild's calendar now, as "2026-11-30". */
export async function guildToday(tx: Transaction): Promise<string> {
  const { timeZone } = await tx.guild.findFirstOrThrow();
  return dayIn(new Date(), timeZone);
}
