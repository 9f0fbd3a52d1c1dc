import { v7 } from "uuid";
import type { PrintWhat, PrintWhich } from "../contract/prints.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { type PrintableTag, printables } from "../database/tag-prints.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { helpsOthers } from "./entry-rules.ts";

export interface AskPrint {
  saleId: string;
  /** Whose: without it everybody's, which only a helper may ask for. */
  memberId?: string | undefined;
  itemId?: string | undefined;
  what: PrintWhat;
  which: PrintWhich;
  /** The stock's name, for the record. */
  stock: string;
  /** How it goes onto paper, as the printing room put it together. */
  paper: { each: boolean } & object;
  /** What the file is about, for its name. */
  about: string;
}

export interface AskedPrint {
  id: string;
  total: number;
}

/** More than any sale needs in one file. */
export const mostLabels = 10_000;

/**
 * Claims tags for a print and puts it in the queue. Whoever asks for "not printed yet" at the same
 * time waits here and then finds those tags taken, so that no tag comes out twice by accident; a
 * print that is cancelled or fails gives them back.
 */
export const askPrint = (deed: Deed, given: AskPrint): Promise<Result<AskedPrint>> =>
  perform(deed, "ask-print", given, async (tx) => {
    const { saleId, memberId, itemId, what, which } = given;
    if (!helpsOthers(deed.actor) && memberId !== deed.actor.id)
      return refuse("not-allowed", "Only the desk and the chair print for others.");
    await tx.$executeRaw`SELECT pg_advisory_xact_lock(hashtextextended(${`print ${saleId}`}, 0))`;
    const each = what === "tag" && given.paper.each;
    const tags = await printables(tx, what, { saleId, memberId, itemId, each });
    const wanted = which === "all" ? tags : tags.filter(({ printed }) => printed === which);
    const fit = mayPrint(wanted, tags, given);
    if (!fit.ok) return fit;
    const value = { id: v7(), total: fit.value };
    await write(tx, deed.actor.id, given, wanted, value);
    return ok({ value, subjectId: value.id, detail: { what, which, labels: value.total } });
  });

function mayPrint(
  wanted: readonly PrintableTag[],
  all: readonly PrintableTag[],
  { what, which }: AskPrint,
): Result<number> {
  const things = what === "tag" ? "tag" : "care strip";
  if (all.length === 0)
    return refuse(
      "not-found",
      `There is no ${things} to print: nothing is entered, or all is withdrawn.`,
    );
  if (wanted.length === 0)
    return refuse(
      "already-done",
      which === "new"
        ? `Every ${things} has been printed. Choose "all" to print them again.`
        : `No ${things} says anything else than when it was printed.`,
    );
  const refused = wanted.filter(({ refusals }) => refusals.length > 0);
  if (refused[0]) {
    const named = refused
      .slice(0, 5)
      .map(({ words }) => words.shownTag)
      .join(", ");
    return refuse(
      "invalid-input",
      `Nothing was printed: what ${named} would say is not lawful. ${refused[0].refusals[0]} Change the entry, then print.`,
    );
  }
  const total = wanted.reduce((sum, { copies }) => sum + copies, 0);
  if (total <= mostLabels) return ok(total);
  return refuse(
    "limit-reached",
    `These are ${total} labels; one file holds ${mostLabels}. Print them member by member.`,
  );
}

async function write(
  tx: Transaction,
  byId: string,
  { saleId, what, stock, paper, about }: AskPrint,
  tags: readonly PrintableTag[],
  { id, total }: AskedPrint,
): Promise<void> {
  await tx.printJob.create({ data: { id, saleId, what, options: paper, about, total, byId } });
  // One statement with arrays: thousands of rows with a parameter each would be too many.
  await tx.$executeRaw`
    INSERT INTO tag_print (job_id, item_id, what, stock, copies, fingerprint, again, by_id)
    SELECT ${id}::uuid, t.item_id, ${what}, ${stock}, t.copies, t.fingerprint, t.again, ${byId}::uuid
    FROM unnest(
      ${tags.map(({ itemId }) => itemId)}::uuid[], ${tags.map(({ copies }) => copies)}::int[],
      ${tags.map(({ fingerprint }) => fingerprint)}::text[],
      ${tags.map(({ printed }) => printed !== "new")}::boolean[]
    ) WITH ORDINALITY AS t(item_id, copies, fingerprint, again, place) ORDER BY t.place`;
}
