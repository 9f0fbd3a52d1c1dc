import { v7 } from "uuid";
import type { Transaction } from "../database/client.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { writeStatementLetters } from "../database/letters/write-letters.ts";
import { type Deed, perform } from "../database/perform.ts";
import type { SaleRead } from "../database/sales.ts";
import { previewSettlement, type SettlementPreview } from "../database/settlement-preview.ts";
import { yearToDateOf } from "../database/statements.ts";
import { settlementPostings } from "../rules/ledger-entries.ts";
import type { Minor } from "../rules/money.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { localDayOf } from "../rules/zoned-time.ts";
import { lockSale } from "./sale-lock.ts";
import { type DraftScene, draftStatements, type StatementDraft } from "./settlement/draft.ts";
import { type Agreed, secondPerson } from "./settlement/second-person.ts";
import { whyNotSettle } from "./settlement/why-not.ts";
import { bigFigures, writeStatements } from "./settlement/write.ts";

/** `proposed` waits for a second person, whom the guild asks for above an amount it set. */
export type Finalised = Figures &
  (
    | { state: "settled"; settlementId: string; number: number; statements: number }
    | { state: "proposed" }
  );

type Figures = { gross: Minor; guildShare: Minor; net: Minor; due: Minor };

/**
 * Settles what is open in a sale, for ever: settlement, statements with lines, fees and unsold
 * pieces, and one entry in the books. `fingerprint` is the preview's, so that what is finalised is
 * what the treasurer saw. The lock of the sale lets one of two win; what comes later makes a
 * further, supplementary settlement. Above the guild's limit the first person's deed only proposes,
 * and the same deed by somebody else settles.
 */
export const finaliseSettlement = (
  deed: Deed,
  input: { saleId: string; fingerprint: string },
): Promise<Result<Finalised>> =>
  perform<Finalised>(deed, "finalise-settlement", input, async (tx) => {
    await takeTime(tx);
    const locked = await lockSale(tx, input.saleId);
    if (!locked.ok) return locked;
    const sale = locked.value;
    if (!allows(sale.stage, "settle"))
      return refuse(
        "stage-closed",
        "Nothing was settled. A sale is settled at the stage Settling, after the tills are cashed up.",
      );
    // Statement numbers run through all sales without a gap, so settlements take turns here.
    await tx.$queryRaw`SELECT 1 FROM guild FOR NO KEY UPDATE`;
    const preview = await previewSettlement(tx, sale.id);
    const wrong = await whyNotSettle(tx, sale.id, preview, input.fingerprint);
    if (wrong) return { ok: false, problem: wrong };
    const agreed = await secondPerson(tx, deed.actor.id, sale.id, preview);
    const figures = figuresOf(preview);
    if (agreed.waits) {
      const value = { state: "proposed" as const, ...figures };
      return ok({ value, subjectId: sale.id, detail: value });
    }
    const value = await settle(tx, sale, preview, agreed);
    const { policyVersion, cardFeeWhole } = preview;
    const { approvedById } = agreed;
    return ok({
      value,
      subjectId: value.settlementId,
      detail: { ...value, saleId: sale.id, approvedById, policyVersion, cardFeeWhole },
    });
  });

/**
 * A thousand members' lines take seconds, which other deeds never do; and the second of two who
 * settle waits for the first, to be told who it was instead of that time ran out.
 */
async function takeTime(tx: Transaction): Promise<void> {
  await tx.$executeRaw`SET LOCAL statement_timeout = '30s'`;
  await tx.$executeRaw`SET LOCAL lock_timeout = '30s'`;
  // Working out fifty thousand lines leaves the database waiting between two statements.
  await tx.$executeRaw`SET LOCAL idle_in_transaction_session_timeout = '30s'`;
}

async function settle(
  tx: Transaction,
  sale: SaleRead,
  preview: SettlementPreview,
  { byId, approvedById }: Agreed,
) {
  const guild = await tx.guild.findFirstOrThrow();
  const [clock] = await tx.$queryRaw<[{ now: Date }]>`SELECT now()`;
  const moment = { now: clock.now, timeZone: guild.timeZone };
  const drafts = await drafted(tx, sale, preview, { guild, ...moment });
  const id = v7();
  const number = (await tx.settlement.count({ where: { saleId: sale.id } })) + 1;
  const { fingerprint, policyVersion } = preview;
  await tx.settlement.create({
    data: {
      ...{ id, saleId: sale.id, number, fingerprint, policyVersion, byId, approvedById },
      ...bigFigures(preview),
      cardFeeWhole: BigInt(preview.cardFeeWhole),
    },
  });
  await writeStatements(tx, id, drafts);
  await writeStatementLetters(tx, { settlementId: id, saleId: sale.id, ...moment });
  await writeEntry(tx, {
    byId,
    kind: "settlement",
    description: `Settlement ${number} of ${sale.name}`,
    saleId: sale.id,
    subjectId: id,
    postings: settlementPostings(preview.members),
  });
  const figures = figuresOf(preview);
  return {
    ...{ state: "settled" as const, settlementId: id, number, statements: drafts.length },
    ...figures,
  };
}

async function drafted(
  tx: Transaction,
  sale: SaleRead,
  { policy, members }: SettlementPreview,
  { guild, now }: { guild: DraftScene["guild"]; now: Date },
): Promise<StatementDraft[]> {
  const year = Number(localDayOf(now.toISOString(), guild.timeZone).slice(0, 4));
  const ids = members.map(({ memberId }) => memberId);
  const yearSoFar = await yearToDateOf(tx, ids, year);
  return draftStatements({ sale, guild, policy, year, yearSoFar }, members);
}

const figuresOf = ({ gross, guildShare, net, due }: Figures): Figures => ({
  ...{ gross, guildShare, net, due },
});
