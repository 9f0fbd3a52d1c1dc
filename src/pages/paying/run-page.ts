import { formatMoney } from "../../rules/currency.ts";
import { dayText } from "../../rules/day.ts";
import { momentText } from "../../rules/moment.ts";
import { total } from "../../rules/money.ts";
import { accountEnding } from "../../rules/paying/bank-account.ts";
import { orderOf, type PreparedRun, type RunItem, standing } from "../../rules/paying/run.ts";
import { transferMessage } from "../../rules/paying/transfer-message.ts";
import type { Problem } from "../../rules/problem.ts";
import { methodWords } from "../books/statement-page.ts";
import { payingPlaces, paymentsText } from "./scene.ts";

/** A run on screen: what to print or send, what waits, and what became of the rest. */
export function runPage(run: PreparedRun, values: unknown, problem?: Problem) {
  const { heading, items } = run;
  const money = (amount: number) => formatMoney(amount, heading.currency, heading.locale);
  const waiting = items.filter(({ outcome }) => outcome === null);
  const path = `/books/runs/${run.id}`;
  return {
    title: `Paying run ${run.number}`,
    places: payingPlaces(""),
    problem,
    values,
    path,
    lead: `${methodWords[run.method]}, ${heading.saleName ?? "all sales"}. Prepared by ${run.byName}, ${momentText(run.at, heading.locale, heading.timeZone)}.`,
    figures: [
      { label: "Payments", value: String(standing(run).length) },
      { label: "Together", value: money(total(standing(run).map(({ amount }) => amount))) },
      { label: "Day", value: dayText(run.day, heading.locale) },
      { label: "Still to record", value: String(waiting.length) },
    ],
    files: standing(run).length > 0 ? filesOf(run, path) : [],
    faults: run.method === "transfer" && standing(run).length > 0 ? faultsOf(run) : [],
    isTransfer: run.method === "transfer",
    anyWaiting: waiting.length > 0,
    waitingText: `${paymentsText(waiting.length)}, ${money(total(waiting.map(({ amount }) => amount)))}`,
    rows: items.map((item) => rowOf(item, money, run)),
  };
}

function filesOf(run: PreparedRun, path: string) {
  if (run.method === "cheque")
    return [{ href: `${path}/cheques.pdf`, label: "List of cheques with amounts in words (PDF)" }];
  if (run.method === "cash")
    return [{ href: `${path}/signatures.pdf`, label: "List to sign for cash (PDF)" }];
  const csv = { href: `${path}/transfers.csv`, label: "List for the bank (CSV)" };
  if (!transferMessage(orderOf(run)).ok) return [csv];
  return [csv, { href: `${path}/transfers.xml`, label: "Message for the bank (ISO 20022 XML)" }];
}

/** What keeps the message for the bank from being written, each with the page that mends it. */
function faultsOf(run: PreparedRun) {
  const message = transferMessage(orderOf(run));
  if (message.ok) return [];
  const items = standing(run);
  return message.problem.errors.map(({ field, message: words }) => {
    const item = items[Number(/^transfers\.(\d+)\./.exec(field)?.[1] ?? -1)];
    return item
      ? {
          who: `${item.memberNumber} ${item.payee}`,
          words,
          href: `/members/${item.memberId}/payment`,
          label: "Mend their account",
        }
      : { who: "The guild", words, href: "/books/paying", label: "Mend the guild's account" };
  });
}

const rowOf = (item: RunItem, money: (amount: number) => string, run: PreparedRun) => ({
  ...item,
  who: `${item.memberNumber} ${item.payee}`,
  href: `/books/statements/${item.statementId}`,
  amount: money(item.amount),
  ending: accountEnding(item.account),
  waits: item.outcome === null,
  paid: item.outcome === "paid" && !item.voided,
  ended:
    item.endedAt &&
    `${item.endedBy}, ${momentText(item.endedAt, run.heading.locale, run.heading.timeZone)}`,
});
