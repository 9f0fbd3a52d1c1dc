import {
  listSettlements,
  listStatements,
  paidFilters,
  type StatementRow,
} from "../../database/settlements.ts";
import { gatherStatements } from "../../database/statements.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { momentText } from "../../rules/moment.ts";
import { outcomeOf } from "../../rules/statement-account.ts";
import { outcomeBadge } from "../statement-account.ts";
import { sendStatements } from "../statement-pdf.ts";
import { searchOf, wantId } from "../want-id.ts";
import { books, type GuildWords, guildWords, numberAfter, type WithId } from "./scene.ts";

type Paid = (typeof paidFilters)[number];
type Query = { Querystring: { q?: string; after?: string; paid?: string } };

const filterWords: Record<Paid, string> = { all: "All", open: "To pay", paid: "Paid" };

/** A finalised settlement: its statements, who is paid, and all of them on paper. */
export async function statementPages(app: App): Promise<void> {
  app.get<WithId & Query>("/books/settlements/:id", books, async (request, reply) =>
    reply.page("books/settlement", await settlementPage(request, request.params.id, request.query)),
  );

  app.get<WithId>("/books/settlements/:id/statements.pdf", books, async (request, reply) => {
    const settlementId = wantId(request.params.id, "this settlement");
    const statements = await gatherStatements(app.parts.db, { settlementId });
    return sendStatements(reply, statements, "statements.pdf");
  });

  app.get<WithId>("/books/statements/:id/pdf", books, async (request, reply) => {
    const id = wantId(request.params.id, "this statement");
    const statements = await gatherStatements(app.parts.db, { id });
    return sendStatements(reply, statements);
  });
}

async function settlementPage(request: Request, given: string, query: Query["Querystring"]) {
  const { db } = request.server.parts;
  const id = wantId(given, "this settlement");
  const [settlement] = await listSettlements(db, { id });
  if (!settlement) throw notFound("this settlement");
  const guild = await guildWords(request);
  const q = searchOf(query.q);
  const paid = paidFilters.find((one) => one === query.paid) ?? "all";
  const page = { q, paid, after: numberAfter(query.after), limit: 50 };
  const { items, next } = await listStatements(db, id, page);
  const path = `/books/settlements/${id}`;
  const address = (more: object) => `${path}?${new URLSearchParams({ paid, q, ...more })}`;
  return {
    title: `Settlement ${settlement.number} of ${settlement.saleName}`,
    path,
    q,
    paid,
    settlement,
    settled: `${settlement.byName}, ${momentText(settlement.at, guild.locale, guild.timeZone)}`,
    gross: guild.money(settlement.gross),
    guildShare: guild.money(settlement.guildShare),
    off: guild.money(offOf(settlement)),
    net: guild.money(settlement.net),
    filters: paidFilters.map((one) => ({
      href: address({ paid: one }),
      label: filterWords[one],
      current: one === paid,
    })),
    next: next === null ? undefined : address({ after: String(next) }),
    statements: items.map((row) => rowOf(row, guild)),
  };
}

/** What came off beside the share: fees and card fee, less what was made good or adjusted. */
const offOf = ({ gross, guildShare, net }: { gross: number; guildShare: number; net: number }) =>
  gross - guildShare - net;

function rowOf(row: StatementRow, { money }: GuildWords) {
  const { state } = outcomeOf(row);
  return {
    ...row,
    href: `/books/statements/${row.id}`,
    gross: money(row.gross),
    guildShare: money(row.guildShare),
    off: money(offOf(row)),
    amount: money(row.due + row.left),
    negative: state === "owed",
    badge: outcomeBadge(state, row.paid),
  };
}
