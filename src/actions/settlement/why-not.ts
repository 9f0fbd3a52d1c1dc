import type { Transaction } from "../../database/client.ts";
import type { SettlementPreview } from "../../database/settlement-preview.ts";
import { momentText } from "../../rules/moment.ts";
import { type Problem, problem } from "../../rules/problem.ts";
import { firstMustBeDone } from "./must-be-done.ts";

/** Why this preview cannot be finalised, if it cannot. */
export async function whyNotSettle(
  tx: Transaction,
  saleId: string,
  preview: SettlementPreview,
  fingerprint: string,
): Promise<Problem | undefined> {
  const last = await tx.settlement.findFirst({ where: { saleId }, orderBy: { number: "desc" } });
  const isEmpty = preview.members.every(
    ({ lines, items, due }) => !lines.length && !items.length && due === 0,
  );
  if (isEmpty && last) return settledBy(tx, last);
  if (preview.members.length === 0)
    return problem(
      "still-open",
      "Nothing came to this sale and nothing was sold, so there is nothing to settle.",
    );
  const first = await firstMustBeDone(tx, saleId);
  if (first) return first;
  if (preview.fingerprint === fingerprint) return undefined;
  return problem(
    "changed-meanwhile",
    "Nothing was settled: the figures are not those you looked at. Look at the new ones and settle again.",
  );
}

async function settledBy(tx: Transaction, last: { byId: string; at: Date }): Promise<Problem> {
  const guild = await tx.guild.findFirstOrThrow();
  const who = await tx.member.findUniqueOrThrow({ where: { id: last.byId } });
  const when = momentText(last.at, guild.locale, guild.timeZone);
  return problem(
    "already-done",
    `${who.name} settled this sale on ${when}, and nothing came after that. Nothing was settled twice.`,
  );
}
