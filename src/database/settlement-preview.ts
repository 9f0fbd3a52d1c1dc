import { createHash } from "node:crypto";
import { type Minor, total } from "../rules/money.ts";
import { type MemberSettlement, type SettledLine, settle } from "../rules/settlement.ts";
import type { Transaction } from "./client.ts";
import { type OpenLine, openLines } from "./open-lines.ts";

export interface SettlementPreview {
  /** Names exactly these lines with these figures: finalising anything else is refused. */
  fingerprint: string;
  members: (MemberSettlement<OpenLine> & { memberName: string })[];
  lines: number;
  gross: Minor;
  guildShare: Minor;
  net: Minor;
  donated: Minor;
}

/** Who would be owed what if the sale were settled now: only lines that no statement holds yet. */
export async function previewSettlement(
  db: Transaction,
  saleId: string,
): Promise<SettlementPreview> {
  const lines = await openLines(db, saleId);
  const members = settle(lines).map((one) => ({
    ...one,
    memberName: one.lines[0]?.memberName ?? "",
  }));
  const sum = (figure: "gross" | "guildShare" | "net" | "donated") =>
    total(members.map((one) => one[figure]));
  return {
    fingerprint: fingerprintOf(members.flatMap((one) => one.lines)),
    members,
    lines: lines.length,
    gross: sum("gross"),
    guildShare: sum("guildShare"),
    net: sum("net"),
    donated: sum("donated"),
  };
}

type Figures = Pick<SettledLine, "lineId" | "amount" | "rate" | "guildShare" | "net" | "donated">;

/**
 * SHA-256 over every line with its figures, in the order of the line ids. check-books works it out
 * again from what is stored, so a line that was changed or taken away later is noticed.
 */
export function fingerprintOf(lines: readonly Figures[]): string {
  const rows = lines
    .map(
      ({ lineId, amount, rate, guildShare, net, donated }) =>
        `${lineId} ${amount} ${rate} ${guildShare} ${net} ${donated}`,
    )
    .sort();
  return createHash("sha256").update(rows.join("\n")).digest("hex");
}
