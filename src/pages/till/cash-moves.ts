import { v7 } from "uuid";
import { z } from "zod";
import { moveCash } from "../../actions/move-cash.ts";
import { type CashMoveInput, cashMoveShape } from "../../contract/till.ts";
import { listCashMoves } from "../../database/cash-moves.ts";
import type { App, Request } from "../../plugins/types.ts";
import { cashMoveWords } from "../../rules/cash-move.ts";
import { formatMoney } from "../../rules/currency.ts";
import { ok, type Problem, type Result, refuseField } from "../../rules/problem.ts";
import { whenText } from "../format.ts";
import { readForm } from "../read-form.ts";
import { isId } from "../want-id.ts";
import { countFields, readCash, withoutCount } from "./count-fields.ts";
import { tillOf, wayBack } from "./routes.ts";

type WithTill = { Params: { tillId: string } };

const { id, kind, reason } = cashMoveShape.shape;
const form = z.strictObject({ id, kind, reason });

/** Cash that goes into or out of a drawer without a sale, and what did so since it was opened. */
export async function cashMovePages(app: App): Promise<void> {
  const counts = { config: { access: ["cashier", "treasurer", "chair"] as const } };

  app.get<WithTill>("/till/:tillId/cash", counts, async (request, reply) =>
    reply.page("till/cash", await page(request as Request)),
  );

  app.post<WithTill>("/till/:tillId/cash", counts, async (request, reply) => {
    const till = await tillOf(request as Request);
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const read = readMove(request.body, guild.currency);
    const done = read.ok
      ? await moveCash(request.deed(), { tillId: till.id, ...read.value })
      : read;
    if (!read.ok || !done.ok) {
      const { problem } = done as { problem: Problem };
      return reply.page("till/cash", await page(request as Request, problem), problem.status);
    }
    const { kind, amount } = read.value;
    const shown = formatMoney(amount, guild.currency, guild.locale);
    return reply.seeOther(`/till/${till.id}/cash`, {
      kind: "good",
      text: `${cashMoveWords[kind].label}: ${shown} is recorded.`,
    });
  });
}

function readMove(body: unknown, currency: string): Result<CashMoveInput> {
  const read = readForm(form, withoutCount(body, "amount"));
  const cash = readCash(body, currency, "amount");
  if (!read.ok && !cash.ok) read.problem.errors = [...read.problem.errors, ...cash.problem.errors];
  if (!read.ok) return read;
  if (!cash.ok) return cash;
  const { sum, counts } = cash.value;
  if (sum === 0) return refuseField("amount", "Type an amount above zero.");
  return ok({ ...read.value, amount: sum, counts });
}

async function page(request: Request, problem?: Problem) {
  const till = await tillOf(request);
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const typed = (request.body as { id?: unknown } | null)?.id;
  const moves = await listCashMoves(db, till.id);
  return {
    title: `Cash of till ${till.number}`,
    action: `/till/${till.id}/cash`,
    way: wayBack(request, till),
    sale: till.sale.name,
    isOpen: till.open !== null,
    // Sent again after a refusal or a broken line, it is still the same move.
    moveId: problem && typeof typed === "string" && isId(typed) ? typed : v7(),
    kinds: Object.entries(cashMoveWords).map(([value, words]) => ({ value, ...words })),
    countFields: countFields(guild),
    moves: moves.map((move) => ({
      what: cashMoveWords[move.kind].label,
      amount: formatMoney(move.amount, guild.currency, guild.locale),
      reason: move.reason,
      who: `${move.by}, ${whenText(move.at, guild)}`,
    })),
    values: problem ? request.body : undefined,
    problem,
  };
}
