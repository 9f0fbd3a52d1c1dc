import { listSettlements } from "../../database/settlements.ts";
import {
  countStatementMails,
  listStatementMails,
  type MailCounts,
  mailsOfStatement,
} from "../../database/statement-mails.ts";
import { gatherStatements } from "../../database/statements.ts";
import { notFound } from "../../plugins/errors.ts";
import type { Request } from "../../plugins/types.ts";
import { type MailState, mailStates } from "../../rules/mail-state.ts";
import { momentText } from "../../rules/moment.ts";
import type { Problem } from "../../rules/problem.ts";
import { searchOf, wantId } from "../want-id.ts";
import { messageWords, stateWords } from "./mail-words.ts";
import { guildWords, numberAfter } from "./scene.ts";

/** In seconds: soon while first tries are under way, seldom while only later ones are waited for. */
const refreshOf = ({ waiting, untried }: Pick<MailCounts, "waiting" | "untried">) =>
  untried > 0 ? "3" : waiting > 0 ? "60" : undefined;

/** All statements of a settlement with how far each has come. */
export async function settlementMails(request: Request, problem?: Problem) {
  const { db, settings } = request.server.parts;
  const query = request.query as { q?: string; after?: string; state?: string };
  const id = wantId((request.params as { id: string }).id, "this settlement");
  const [settlement] = await listSettlements(db, { id });
  if (!settlement) throw notFound("this settlement");
  const guild = await guildWords(request);
  const counts = await countStatementMails(db, id);
  const q = searchOf(query.q);
  const state = mailStates.find((one) => one === query.state) ?? ("all" as const);
  const page = { q, state, after: numberAfter(query.after), limit: 50 };
  const { items, next } = await listStatementMails(db, id, page);
  const path = `/books/settlements/${id}`;
  const address = (more: object) => `${path}/mails?${new URLSearchParams({ state, q, ...more })}`;
  const ended = counts.sent + counts.failed + counts.returned;
  return {
    ...{ title: "Statements by e-mail", problem, path, q, state, counts },
    above: `Settlement ${settlement.number} of ${settlement.saleName}`,
    noMail: settings.mail === undefined,
    refresh: problem ? undefined : refreshOf(counts),
    noAddress: counts["no-address"],
    sendLabel: `Send ${counts.unsent === 1 ? "1 statement" : `${counts.unsent} statements`} by e-mail`,
    progress: { ended, total: ended + counts.waiting },
    filters: filtersOf(counts, state, address),
    next: next === null ? undefined : address({ after: String(next) }),
    statements: items.map((row) => ({
      ...row,
      badge: stateWords[row.state],
      words: messageWords(row, guild),
      href: `/books/statements/${row.statementId}/mails`,
      pdfHref: `/books/statements/${row.statementId}/pdf`,
      memberHref: `/members/${row.memberId}`,
    })),
  };
}

const filtersOf = (
  counts: MailCounts,
  current: MailState | "all",
  address: (more: object) => string,
) => [
  { href: address({ state: "all" }), label: "All", current: current === "all" },
  ...mailStates
    .filter((one) => counts[one] > 0 || one === current)
    .map((one) => ({
      href: address({ state: one }),
      label: `${stateWords[one].text} (${counts[one]})`,
      current: one === current,
    })),
];

/** One statement with every message for it, and the form that sends it, also again. */
export async function statementMails(request: Request, problem?: Problem) {
  const { db, settings } = request.server.parts;
  const id = wantId((request.params as { id: string }).id, "this statement");
  const [statement] = await gatherStatements(db, { id });
  if (!statement) throw notFound("this statement");
  const member = await db.member.findUniqueOrThrow({ where: { id: statement.memberId } });
  const guild = await guildWords(request);
  const mails = await mailsOfStatement(db, id);
  const waiting = mails[0]?.state === "waiting";
  const untried = waiting && mails[0]?.lastError === "" ? 1 : 0;
  const { number, heading } = statement;
  return {
    ...{ title: `Statement ${number} by e-mail`, problem, waiting, id },
    values: problem ? request.body : {},
    above: `Member ${heading.memberNumber}, ${heading.memberName}`,
    noMail: settings.mail === undefined,
    refresh: problem ? undefined : refreshOf({ waiting: waiting ? 1 : 0, untried }),
    address: member.email,
    memberHref: `/members/${member.id}`,
    statementHref: `/books/statements/${id}`,
    settlementHref: `/books/settlements/${statement.settlementId}/mails`,
    after: mails.length,
    sendLabel: mails.length > 0 ? "Send it again" : "Send it by e-mail",
    mails: mails.map((mail) => {
      const state = mail.state as MailState;
      return {
        attempt: mail.attempt,
        asked: momentText(mail.createdAt, guild.locale, guild.timeZone),
        badge: stateWords[state],
        words: messageWords({ ...mail, state }, guild),
        returnHref: state === "sent" ? `/books/statements/${id}/mails/${mail.id}/return` : "",
      };
    }),
  };
}
