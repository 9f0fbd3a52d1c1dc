import { readCashUp } from "../../database/cash-ups.ts";
import { sheetOf } from "../../database/closing-sheet.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { printClosingSheet } from "../../printing/closing-sheet.ts";
import { printDepositSlip } from "../../printing/deposit-slip.ts";
import type { PaperName, SheetOptions } from "../../printing/sheet.ts";
import { formatMoney, parseMoney } from "../../rules/currency.ts";
import { type Problem, problem } from "../../rules/problem.ts";
import { tenderWords } from "../../rules/tender.ts";
import { whenText } from "../format.ts";
import { wantId } from "../want-id.ts";
import { closingWords, depositWords } from "./closing-words.ts";
import { differenceWords } from "./difference-words.ts";

type WithId = { Params: { id: string }; Querystring: { keep?: unknown } };

/** A cash-up that is done, and its two papers: the closing sheet and the slip for the bank. */
export async function cashedUpPages(app: App): Promise<void> {
  const counts = { config: { access: ["cashier", "treasurer", "chair"] as const } };

  app.get<WithId>("/cash-ups/:id", counts, async (request, reply) =>
    reply.page("till/cashed-up", await page(request as Request, request.params.id)),
  );

  app.get<WithId>("/cash-ups/:id/sheet.pdf", counts, async ({ params }, reply) => {
    const { sheet, guild } = await recorded(app, params.id);
    const name = `closing-sheet-till-${sheet.tillNumber}.pdf`;
    return send(reply, name, await printClosingSheet(closingWords(sheet, guild), on(guild, sheet)));
  });

  app.get<WithId>("/cash-ups/:id/deposit.pdf", counts, async (request, reply) => {
    const { params, query } = request;
    const { sheet, guild } = await recorded(app, params.id);
    const typed = typeof query.keep === "string" ? query.keep.trim() : "";
    const kept = parseMoney(typed || "0", guild.currency, "keep");
    const refused = kept.ok ? tooMuch(kept.value, sheet.counted) : kept.problem;
    if (!kept.ok || refused)
      return reply.page(
        "till/cashed-up",
        {
          ...(await page(request as Request, params.id)),
          problem: refused,
          values: { keep: typed },
        },
        400,
      );
    const words = depositWords(sheet, guild, kept.value);
    const name = `deposit-till-${sheet.tillNumber}.pdf`;
    return send(reply, name, await printDepositSlip(words, on(guild, sheet)));
  });
}

const tooMuch = (keep: number, counted: number): Problem | undefined =>
  keep <= counted
    ? undefined
    : problem("invalid-input", "No slip was made.", [
        { field: "keep", message: "This is more than was counted." },
      ]);

/** Dated by the cash-up, so that a reprint is the same to the byte. */
const on = (guild: { paper: string }, { at }: { at: string }): SheetOptions => ({
  paper: guild.paper as PaperName,
  createdAt: new Date(at),
});

const send = (reply: Reply, name: string, bytes: Uint8Array) =>
  reply
    .type("application/pdf")
    .header("content-disposition", `inline; filename="${name}"`)
    .send(Buffer.from(bytes));

async function recorded(app: App, id: string) {
  const sheet = await sheetOf(app.parts.db, wantId(id, "this cash-up"));
  if (!sheet) throw notFound("this cash-up");
  return { sheet, guild: await app.parts.db.guild.findFirstOrThrow() };
}

async function page(request: Request, id: string) {
  const { db } = request.server.parts;
  const found = await readCashUp(db, wantId(id, "this cash-up"));
  if (!found) throw notFound("this cash-up");
  const guild = await db.guild.findFirstOrThrow();
  const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
  return {
    title: `Cash-up of till ${found.tillNumber}`,
    difference: differenceWords(found.difference, money),
    way: request.who().roles.some((role) => role === "cashier" || role === "chair")
      ? { href: "/till", label: "All tills" }
      : { href: `/books/${found.saleId}/drawers`, label: "Drawers of this sale" },
    sheetHref: `/cash-ups/${id}/sheet.pdf`,
    depositHref: `/cash-ups/${id}/deposit.pdf`,
    figures: [
      { label: "Counted", value: money(found.counted) },
      { label: "Expected", value: money(found.expected) },
    ],
    facts: [
      { label: "Sale", value: found.sale },
      { label: "Float", value: money(found.float) },
      { label: "Counted by", value: `${found.by} and ${found.witness}` },
      { label: "When", value: whenText(found.at, guild) },
      ...found.note
        .split("\n")
        .filter(Boolean)
        .map((line) => ({ label: "Note", value: line })),
    ],
    tenders: found.tenders.map(({ kind, count, amount }) => ({
      label: kind === "exchange" ? "Exchange" : tenderWords[kind],
      count,
      amount: money(amount),
    })),
  };
}
