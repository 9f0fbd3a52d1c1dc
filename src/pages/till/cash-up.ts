import { z } from "zod";
import { cashUp } from "../../actions/cash-up.ts";
import { type CashUpInput, cashUpShape } from "../../contract/till.ts";
import { readCashUp } from "../../database/cash-ups.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { formatMoney, parseMoney } from "../../rules/currency.ts";
import { ok, type Problem, type Result } from "../../rules/problem.ts";
import { tenderWords } from "../../rules/tender.ts";
import { whenText } from "../format.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { tillOf } from "./routes.ts";

type WithTill = { Params: { tillId: string } };

const form = z.strictObject({
  counted: z.string().max(40, "Use at most 40 characters"),
  witness: cashUpShape.shape.witness,
  note: cashUpShape.shape.note,
});

/** Counting a drawer and closing its till; the expected sum is shown only after the count. */
export async function cashUpPages(app: App): Promise<void> {
  const counts = { config: { access: ["cashier", "treasurer", "chair"] as const } };

  app.get<WithTill>("/till/:tillId/cash-up", counts, async (request, reply) =>
    reply.page("till/cash-up", await page(request)),
  );

  app.post<WithTill>("/till/:tillId/cash-up", counts, async (request, reply) => {
    const till = await tillOf(request);
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const read = readCount(request.body, guild.currency);
    const done = read.ok ? await cashUp(request.deed(), { tillId: till.id, ...read.value }) : read;
    if (!done.ok)
      return reply.page("till/cash-up", await page(request, done.problem), done.problem.status);
    return reply.seeOther(`/cash-ups/${done.value.sessionId}`, {
      kind: "good",
      text: `Till ${till.number} is cashed up and closed.`,
    });
  });

  app.get<{ Params: { id: string } }>("/cash-ups/:id", counts, async (request, reply) => {
    const found = await readCashUp(app.parts.db, wantId(request.params.id, "this cash-up"));
    if (!found) throw notFound("this cash-up");
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
    return reply.page("till/cashed-up", {
      title: `Cash-up of till ${found.tillNumber}`,
      difference: differenceWords(found.difference, money),
      figures: [
        { label: "Counted", value: money(found.counted) },
        { label: "Expected", value: money(found.expected) },
      ],
      facts: [
        { label: "Sale", value: found.sale },
        { label: "Float", value: money(found.float) },
        { label: "Counted by", value: `${found.by} and ${found.witness}` },
        { label: "When", value: whenText(found.at, guild) },
        ...(found.note ? [{ label: "Note", value: found.note }] : []),
      ],
      tenders: found.tenders.map(({ kind, count, amount }) => ({
        label: tenderWords[kind],
        count,
        amount: money(amount),
      })),
    });
  });
}

function readCount(body: unknown, currency: string): Result<CashUpInput> {
  const read = readForm(form, body);
  const typed = (body as { counted?: unknown } | null)?.counted;
  const counted = parseMoney(typeof typed === "string" ? typed : "", currency, "counted");
  if (!read.ok && !counted.ok)
    read.problem.errors = [
      ...counted.problem.errors,
      ...read.problem.errors.filter(({ field }) => field !== "counted"),
    ];
  if (!read.ok) return read;
  return counted.ok ? ok({ ...read.value, counted: counted.value }) : counted;
}

const differenceWords = (difference: number, money: (amount: number) => string): string => {
  if (difference === 0) return "The drawer holds exactly what it should.";
  return difference > 0
    ? `The drawer holds ${money(difference)} more than it should. It is noted as over.`
    : `The drawer holds ${money(0 - difference)} less than it should. It is noted as short.`;
};

async function page(request: Request, problem?: Problem) {
  const till = await tillOf(request);
  return {
    title: `Cash up till ${till.number}`,
    action: `/till/${till.id}/cash-up`,
    tillHref: `/till/${till.id}`,
    till: { number: till.number, name: till.name, sale: till.sale.name },
    isOpen: till.open !== null,
    values: problem ? request.body : undefined,
    problem,
  };
}
