import { v7 } from "uuid";
import type { Transaction } from "../database/client.ts";
import { writeEntry } from "../database/journal-writing.ts";
import { type Deed, perform } from "../database/perform.ts";
import { previewSettlement, type SettlementPreview } from "../database/settlement-preview.ts";
import { unsoldItems } from "../database/unsold-items.ts";
import { settlementPostings } from "../rules/ledger-entries.ts";
import { momentText } from "../rules/moment.ts";
import type { Minor } from "../rules/money.ts";
import { ok, type Problem, problem, type Result, refuse } from "../rules/problem.ts";
import { allows } from "../rules/sale-stage.ts";
import { lockSale } from "./sale-lock.ts";
import { draftStatements } from "./settlement/draft.ts";
import { writeStatements } from "./settlement/write.ts";

export interface Finalised {
  settlementId: string;
  number: number;
  statements: number;
  gross: Minor;
  guildShare: Minor;
  net: Minor;
}

/**
 * Settles what is open in a sale, for ever: settlement, statements with lines and unsold pieces,
 * and one entry in the books. `fingerprint` is the preview's, so that what is finalised is what
 * the treasurer saw. The lock of the sale lets one of two win; what comes later makes a further,
 * supplementary settlement.
 */
export const finaliseSettlement = (
  deed: Deed,
  input: { saleId: string; fingerprint: string },
): Promise<Result<Finalised>> =>
  perform(deed, "finalise-settlement", input, async (tx) => {
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
    const earlier = await tx.settlement.count({ where: { saleId: sale.id } });
    const touched = preview.members.flatMap(({ lines }) =>
      lines.flatMap(({ itemId }) => (itemId ? [itemId] : [])),
    );
    const unsold = await unsoldItems(tx, sale.id, earlier > 0 ? touched : null);
    const wrong = await whyNot(tx, sale.id, preview, input.fingerprint, unsold.length);
    if (wrong) return { ok: false, problem: wrong };
    const guild = await tx.guild.findFirstOrThrow();
    const drafts = draftStatements({ sale, guild, members: preview.members, unsold });
    const settlementId = v7();
    const { fingerprint } = preview;
    const figures = figuresOf(preview);
    const row = { id: settlementId, saleId: sale.id, number: earlier + 1, fingerprint };
    await tx.settlement.create({ data: { ...row, ...inBig(figures), byId: deed.actor.id } });
    await writeStatements(tx, settlementId, drafts);
    await writeEntry(tx, {
      byId: deed.actor.id,
      kind: "settlement",
      description: `Settlement ${row.number} of ${sale.name}`,
      saleId: sale.id,
      subjectId: settlementId,
      postings: settlementPostings(preview.members),
    });
    const value = { settlementId, number: row.number, statements: drafts.length, ...figures };
    return ok({ value, subjectId: settlementId, detail: { ...value, saleId: sale.id } });
  });

/**
 * A thousand members' lines take seconds, which other deeds never do; and the second of two who
 * settle waits for the first, to be told who it was instead of that time ran out.
 */
async function takeTime(tx: Transaction): Promise<void> {
  await tx.$executeRaw`SET LOCAL statement_timeout = '30s'`;
  await tx.$executeRaw`SET LOCAL lock_timeout = '30s'`;
}

async function whyNot(
  tx: Transaction,
  saleId: string,
  preview: SettlementPreview,
  fingerprint: string,
  unsold: number,
): Promise<Problem | undefined> {
  const last = await tx.settlement.findFirst({ where: { saleId }, orderBy: { number: "desc" } });
  if (preview.lines === 0 && last) return settledBy(tx, last);
  if (preview.lines === 0 && unsold === 0)
    return problem(
      "still-open",
      "Nothing came to this sale and nothing was sold, so there is nothing to settle.",
    );
  const unsent = await unsentAt(tx, saleId);
  if (unsent) return unsent;
  if (preview.fingerprint === fingerprint) return undefined;
  return problem(
    "changed-meanwhile",
    "Nothing was settled: the figures are not those you looked at. Look at the new ones and settle again.",
  );
}

/** What a till has not sent yet is not in these figures. */
async function unsentAt(tx: Transaction, saleId: string): Promise<Problem | undefined> {
  const device = await tx.tillDevice.findFirst({
    where: { till: { saleId }, lostAt: null, unsent: { gt: 0 } },
    include: { till: { select: { number: true } } },
  });
  if (!device) return undefined;
  return problem(
    "still-open",
    `Nothing was settled: till ${device.till.number} (${device.name}) still keeps ${device.unsent} that it has not sent. Open its page on line and wait until it says that all is sent.`,
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

type Figures = Pick<Finalised, "gross" | "guildShare" | "net">;

const figuresOf = ({ gross, guildShare, net }: Figures): Figures => ({ gross, guildShare, net });

const inBig = ({ gross, guildShare, net }: Figures) => ({
  gross: BigInt(gross),
  guildShare: BigInt(guildShare),
  net: BigInt(net),
});
