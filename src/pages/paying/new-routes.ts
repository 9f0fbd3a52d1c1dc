import { z } from "zod";
import { prepareRun } from "../../actions/prepare-run.ts";
import { mostInRun, prepareRunShape } from "../../contract/paying.ts";
import { listSales } from "../../database/sales.ts";
import { listToPrepare, type ToPrepare } from "../../database/to-prepare.ts";
import type { App, Request } from "../../plugins/types.ts";
import { dayIn } from "../../rules/day.ts";
import { accountEnding, accountFaults } from "../../rules/paying/bank-account.ts";
import type { Problem } from "../../rules/problem.ts";
import type { PayoutMethod } from "../../rules/statement.ts";
import { books, type GuildWords, guildWords } from "../books/scene.ts";
import { methodWords } from "../books/statement-page.ts";
import { readForm } from "../read-form.ts";
import { isId } from "../want-id.ts";
import { isMethod, methodChoices, payingPlaces, ticked } from "./scene.ts";

const form = prepareRunShape.extend({
  saleId: z.preprocess((value) => value || null, prepareRunShape.shape.saleId),
  statementIds: z.preprocess(ticked, prepareRunShape.shape.statementIds),
});

interface Chosen {
  method: PayoutMethod;
  saleId: string;
}

/** Choosing whom to pay together, and preparing it. */
export async function newRunPages(app: App): Promise<void> {
  app.get("/books/runs/new", books, async (request, reply) =>
    reply.page("paying/new", await page(request, chosenFrom(request.query))),
  );

  app.post("/books/runs", books, async (request, reply) => {
    const read = readForm(form, request.body);
    const done = read.ok ? await prepareRun(request.deed(), read.value) : read;
    if (!done.ok) {
      const again = await page(request, chosenFrom(request.body), done.problem);
      return reply.page("paying/new", again, done.problem.status);
    }
    return reply.seeOther(`/books/runs/${done.value.runId}`, {
      kind: "good",
      title: `Paying run ${done.value.number} is prepared`,
      text: "Nothing is recorded as paid yet. Print or send what is below, then record it here.",
    });
  });
}

function chosenFrom(given: unknown): Chosen {
  const { method, saleId } = given as { method?: unknown; saleId?: unknown };
  return {
    method: isMethod(method) ? method : "cheque",
    saleId: typeof saleId === "string" && isId(saleId) ? saleId : "",
  };
}

async function page(request: Request, chosen: Chosen, problem?: Problem) {
  const { db } = request.server.parts;
  const guild = await guildWords(request);
  const which = { method: chosen.method, saleId: chosen.saleId || undefined, limit: mostInRun };
  const { items, next } = await listToPrepare(db, which);
  const sales = (await listSales(db, { limit: 200 })).items;
  const payer = await db.payingSetting.findFirstOrThrow();
  const body = (problem ? request.body : undefined) as { statementIds?: unknown } | undefined;
  const typed = body && new Set(ticked(body.statementIds).map(String));
  return {
    title: "Prepare a paying run",
    places: payingPlaces(""),
    problem,
    ...chosen,
    isCheque: chosen.method === "cheque",
    isTransfer: chosen.method === "transfer",
    payerMissing: chosen.method === "transfer" && payer.account === "",
    methodName: methodWords[chosen.method].toLowerCase(),
    methods: methodChoices,
    sales: sales.map(({ id, name }) => ({ value: id, label: name })),
    values: body ?? { ...chosen, day: dayIn(request.server.now(), guild.timeZone) },
    more: next !== null,
    mostInRun,
    rows: items.map((one) => rowOf(one, chosen.method, guild, typed)),
  };
}

/** Whoever wishes another way or has no account is listed without a tick, and the row says why. */
function rowOf(one: ToPrepare, method: PayoutMethod, guild: GuildWords, typed?: Set<string>) {
  const without = method === "transfer" && one.account === "";
  const other = one.method !== method ? methodWords[one.method].toLowerCase() : "";
  return {
    ...one,
    amount: guild.money(one.amount),
    ending: method === "transfer" ? accountEnding(one.account) : "",
    without,
    other,
    faulty: method === "transfer" && accountFaults(one).length > 0,
    bankHref: `/members/${one.memberId}/payment`,
    ticked: typed ? typed.has(one.statementId) : !without && other === "",
  };
}
