import { v7 } from "uuid";
import type { PrepareRunInput } from "../contract/paying.ts";
import type { Transaction } from "../database/client.ts";
import { type Deed, perform } from "../database/perform.ts";
import { listToPrepare, type ToPrepare } from "../database/to-prepare.ts";
import { total } from "../rules/money.ts";
import type { RunHeading } from "../rules/paying/run.ts";
import { chequeNumber, transferReference } from "../rules/paying/run-reference.ts";
import { ok, problem, type Result, refuseField } from "../rules/problem.ts";
import { lockGuild } from "./guild-lock.ts";
import { strangeDay } from "./record-payout.ts";

export interface Prepared {
  runId: string;
  number: number;
  payments: number;
  total: number;
}

/**
 * Prepares payouts of one kind together: names, accounts, amounts and numbers are frozen, and no
 * other run or payout takes these statements until each is recorded as paid or dropped.
 */
export const prepareRun = (deed: Deed, input: PrepareRunInput): Promise<Result<Prepared>> =>
  perform(
    deed,
    "prepare-run",
    input,
    async (tx) => {
      if (input.method === "cheque" && !/^\d+$/.test(input.firstCheque))
        return refuseField("firstCheque", "Give the number of the first cheque, in digits.");
      // Run numbers have no gap, so those who prepare take turns here.
      await lockGuild(tx);
      await tx.$queryRaw`
        SELECT 1 FROM statement WHERE id = ANY (${input.statementIds}::uuid[]) ORDER BY id FOR UPDATE`;
      const chosen = await listToPrepare(tx, {
        ids: input.statementIds,
        limit: input.statementIds.length,
      });
      const wrong = whyNot(input, chosen.items) ?? (await usedCheque(tx, input));
      if (wrong) return wrong;
      const last = await tx.payingRun.aggregate({ _max: { number: true } });
      const run = { runId: v7(), number: (last._max.number ?? 0) + 1 };
      await tx.payingRun.create({ data: await runRow(tx, deed.actor.id, input, run) });
      await tx.payingRunItem.createMany({
        data: chosen.items.map((one, index) => itemRow(one, index, input, run)),
      });
      const amount = total(chosen.items.map((one) => one.amount));
      const value = { ...run, payments: chosen.items.length, total: amount };
      return ok({ value, subjectId: run.runId, detail: { ...value, method: input.method } });
    },
    { paying_run_item_open: gone, "paid-already": gone },
  );

const gone = () =>
  problem(
    "changed-meanwhile",
    "Somebody paid or prepared one of these meanwhile. Nothing was prepared; load the page again.",
  );

function whyNot(input: PrepareRunInput, found: readonly ToPrepare[]) {
  if (found.length < input.statementIds.length) return { ok: false as const, problem: gone() };
  const early = found.find(({ firstDay }) => strangeDay(input.day, firstDay));
  if (early) return refuseField("day", strangeDay(input.day, early.firstDay) ?? "");
  const without = found.filter(({ account }) => account === "");
  if (input.method !== "transfer" || without.length === 0) return undefined;
  const names = without.map(({ memberNumber, payee }) => `${memberNumber} ${payee}`).join(", ");
  return refuseField("statementIds", `There is no account to pay to: ${names}.`);
}

/** A cheque that was written cannot be written again; the number of a dropped one may be. */
async function usedCheque(tx: Transaction, { method, firstCheque, statementIds }: PrepareRunInput) {
  if (method !== "cheque") return undefined;
  const numbers = statementIds.map((_, index) => chequeNumber(firstCheque, index));
  const [used] = await tx.$queryRaw<{ reference: string }[]>`
    SELECT reference FROM payout WHERE method = 'cheque' AND reference = ANY (${numbers})
    UNION ALL SELECT i.reference FROM paying_run_item i JOIN paying_run r ON r.id = i.run_id
      WHERE r.method = 'cheque' AND i.outcome IS NULL AND i.reference = ANY (${numbers})
    LIMIT 1`;
  if (!used) return undefined;
  return refuseField(
    "firstCheque",
    `Cheque ${used.reference} was used already, and this run would come to it. Give another first number.`,
  );
}

async function runRow(
  tx: Transaction,
  byId: string,
  { method, saleId, day, firstCheque }: PrepareRunInput,
  { runId: id, number }: { runId: string; number: number },
) {
  const guild = await tx.guild.findFirstOrThrow();
  const sale = saleId ? await tx.sale.findUnique({ where: { id: saleId } }) : null;
  const { name, account, bank } = await tx.payingSetting.findFirstOrThrow();
  const heading: RunHeading = {
    guildName: guild.name,
    guildLines: guild.address.split("\n").filter(Boolean),
    saleName: sale?.name ?? null,
    currency: guild.currency,
    locale: guild.locale,
    timeZone: guild.timeZone,
    paper: guild.paper as RunHeading["paper"],
    payer: { name: name || guild.name, account, bank },
  };
  return {
    ...{ id, number, method, byId, saleId: sale?.id ?? null },
    day: new Date(`${day}T00:00:00Z`),
    firstCheque: method === "cheque" ? firstCheque : "",
    heading: heading as object,
  };
}

const itemRow = (
  { statementId, statementNumber, memberNumber, payee, account, bank, amount, saleName }: ToPrepare,
  index: number,
  { method, firstCheque }: PrepareRunInput,
  { runId, number }: { runId: string; number: number },
) => ({
  ...{ runId, statementId, memberNumber, payee },
  position: index + 1,
  // Only a transfer needs them, and what is not needed is not kept twice.
  account: method === "transfer" ? account : "",
  bank: method === "transfer" ? bank : "",
  amount: BigInt(amount),
  message: `${saleName}, statement ${statementNumber}`,
  reference:
    method === "cheque"
      ? chequeNumber(firstCheque, index)
      : transferReference(number, statementNumber),
});
