import type { Transaction } from "../../database/client.ts";
import { rateWords } from "../../rules/policy/rate-words.ts";
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
    data: drafts.map(({ id, memberId, heading, payout, ...figures }, index) => ({
      ...{ id, settlementId, number: first + index, memberId, payMethod: payout.method },
      ...bigFigures(figures),
      carried: BigInt(figures.carried),
      due: BigInt(figures.due),
      heading: { ...heading },
    })),
  });
  for (const part of parts(drafts.flatMap(lineRows))) await insertLines(tx, part);
  for (const part of parts(drafts.flatMap(itemRows))) await insertItems(tx, part);
  for (const part of parts(drafts.flatMap(unsoldRows))) await insertUnsold(tx, part);
}

// biome-ignore format: one line for names that belong together
const figureNames = ["gross", "guildShare", "cardFee", "fees", "losses", "adjustments", "net"] as const;

type Figures = Record<(typeof figureNames)[number], number>;

/** The figures that a settlement and its statements have in common, as the database keeps them. */
export const bigFigures = (figures: Figures) =>
  Object.fromEntries(figureNames.map((name) => [name, BigInt(figures[name])])) as Record<
    keyof Figures,
    bigint
  >;

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
    ground: rateWords(line.answer.reason),
    cardFee: line.cardFee,
    guildShare: line.guildShare,
    net: line.net,
    donated: line.donated,
  }));

const itemRows = ({ id, items }: StatementDraft) =>
  items.map(({ kind, words, count, amount, itemId, adjustmentId }, index) => ({
    ...{ statementId: id, position: index + 1, kind, words, count, amount, itemId, adjustmentId },
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
      amount, rate, ground, card_fee, guild_share, net, donated)
  SELECT r."receiptLineId", r."statementId", r."position", r."soldAt", r."tag", r."description", r."quantity",
      r."amount", r."rate", r."ground", r."cardFee", r."guildShare", r."net", r."donated"
  FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r("receiptLineId" uuid, "statementId" uuid,
      "position" integer, "soldAt" timestamptz, "tag" text, "description" text, "quantity" integer,
      "amount" bigint, "rate" integer, "ground" text, "cardFee" bigint, "guildShare" bigint, "net" bigint, "donated" boolean)`;

const insertItems = (tx: Transaction, rows: object[]) => tx.$executeRaw`
  INSERT INTO statement_item (statement_id, position, kind, words, count, amount, item_id, adjustment_id)
  SELECT r."statementId", r."position", r."kind", r."words", r."count", r."amount", r."itemId", r."adjustmentId"
  FROM jsonb_to_recordset(${JSON.stringify(rows)}::jsonb) AS r("statementId" uuid, "position" integer, "kind" text,
      "words" text, "count" integer, "amount" bigint, "itemId" uuid, "adjustmentId" uuid)`;

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
