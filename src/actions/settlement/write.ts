import type { Transaction } from "../../database/client.ts";
import type { StatementDraft } from "./draft.ts";

/** Each statement of the database has five seconds; so many rows take well under one. */
const rowsAtOnce = 5_000;

/** Writes statements with the next numbers, their lines and what did not sell. */
export async function writeStatements(
  tx: Transaction,
  settlementId: string,
  drafts: readonly StatementDraft[],
): Promise<void> {
  const { _max } = await tx.statement.aggregate({ _max: { number: true } });
  const first = (_max.number ?? 0) + 1;
  await tx.statement.createMany({
    data: drafts.map(({ id, memberId, gross, guildShare, net, heading }, index) => ({
      id,
      settlementId,
      number: first + index,
      memberId,
      gross: BigInt(gross),
      guildShare: BigInt(guildShare),
      net: BigInt(net),
      heading: { ...heading },
    })),
  });
  for (const part of parts(drafts.flatMap(lineRows))) await insertLines(tx, part);
  for (const part of parts(drafts.flatMap(unsoldRows))) await insertUnsold(tx, part);
}

const lineRows = ({ id, lines }: StatementDraft) =>
  lines.map((line, index) => ({
    receiptLineId: line.lineId,
    statementId: id,
    position: index + 1,
    soldAt: line.soldAt.toISOString(),
    tag: line.tag,
    description: line.description,
    quantity: line.quantity,
    amount: line.amount,
    rate: line.rate,
    guildShare: line.guildShare,
    net: line.net,
    donated: line.donated,
  }));

const unsoldRows = ({ id, unsold }: StatementDraft) =>
  unsold.map(({ tag, description, quantity, price }, index) => ({
    statementId: id,
    position: index + 1,
    tag,
    description,
    quantity,
    price,
  }));

/** One parameter with all rows as JSON: a parameter for every field would pass the driver's limit. */
const insertLines = (tx: Transaction, rows: object[]) => tx.$executeRaw`
  INSERT INTO statement_line (receipt_line_id, statement_id, position, sold_at, tag, description, quantity,
      amount, rate, guild_share, net, donated)
  SELECT r."receiptLineId", r."statementId", r."position", r."soldAt", r."tag", r."description", r."quantity",
      r."amount", r."rate", r."guildShare", r."net", r."donated"
  FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r("receiptLineId" uuid, "statementId" uuid,
      "position" integer, "soldAt" timestamptz, "tag" text, "description" text, "quantity" integer,
      "amount" bigint, "rate" integer, "guildShare" bigint, "net" bigint, "donated" boolean)`;

const insertUnsold = (tx: Transaction, rows: object[]) => tx.$executeRaw`
  INSERT INTO statement_unsold (statement_id, position, tag, description, quantity, price)
  SELECT r."statementId", r."position", r."tag", r."description", r."quantity", r."price"
  FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r("statementId" uuid, "position" integer,
      "tag" text, "description" text, "quantity" integer, "price" bigint)`;

function parts<T>(rows: readonly T[]): T[][] {
  const count = Math.ceil(rows.length / rowsAtOnce);
  return Array.from({ length: count }, (_, index) =>
    rows.slice(index * rowsAtOnce, (index + 1) * rowsAtOnce),
  );
}
