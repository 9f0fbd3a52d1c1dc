import { listSoldLines, sumSoldLines } from "../../database/figures/sold-lines.ts";
import { listReceipts, type ReceiptFilter, sumReceipts } from "../../database/receipt-list.ts";
import type { App, Request } from "../../plugins/types.ts";
import { showTag } from "../../rules/tag-number.ts";
import { instantOf } from "../../rules/zoned-time.ts";
import { books, type GuildWords, guildWords, saleNamed } from "../books/scene.ts";
import { hourText, whenText } from "../format.ts";
import { cursorOf, nextHref, searchOf } from "../want-id.ts";
import { tenderName } from "./takings-page.ts";

type Asked = Partial<Record<"q" | "after" | "till" | "tender" | "hour" | "kind", string>>;
type WithRows = { Params: { saleId: string }; Querystring: Asked };

/** The rows behind a line of the takings: receipts, or lines of receipts. */
export async function rowPages(app: App): Promise<void> {
  app.get<WithRows>("/books/:saleId/receipts", books, async (request, reply) =>
    reply.page("figures/receipts", await receiptsPage(request as Request)),
  );

  app.get<WithRows>("/books/:saleId/lines", books, async (request, reply) =>
    reply.page("figures/lines", await linesPage(request as Request)),
  );
}

async function receiptsPage(request: Request) {
  const { db } = request.server.parts;
  const sale = await saleNamed(request, (request.params as { saleId: string }).saleId);
  const guild = await guildWords(request);
  const asked = request.query as Asked;
  const { filter, kept, words } = readAsked(sale.id, asked, guild);
  const q = searchOf(asked.q);
  const whole = q === "" ? filter : { ...filter, q };
  const after = typeof asked.after === "string" ? asked.after : "";
  const page = await listReceipts(db, whole, { after, limit: 50 });
  const path = `/books/${sale.id}/receipts`;
  return {
    title: `Receipts of ${sale.name}`,
    ...{ path, q, kept: Object.entries(kept).map(([name, value]) => ({ name, value })) },
    words: words.join(", "),
    backHref: `/books/${sale.id}/takings`,
    sum: guild.money(await sumReceipts(db, whole)),
    receipts: page.items.map((row) => ({
      ...{ name: row.name, href: `/receipts/${row.id}`, cashier: row.cashier },
      at: whenText(row.at, guild),
      what: row.calledOff ? "Called off later" : kindWords[row.kind],
      paid: guild.money(row.paid),
    })),
    nextHref: nextHref(path, page.next, { ...kept, q }),
  };
}

const kindWords = { sale: "Sale", return: "Return", void: "Call-off" };

/** What an address asks for; what is no till, tender or hour is left out. */
function readAsked(saleId: string, asked: Asked, guild: GuildWords) {
  const filter: ReceiptFilter = { saleId };
  const kept: Record<string, string> = {};
  const words: string[] = [];
  const keep = (name: string, value: string, said: string) => {
    kept[name] = value;
    words.push(said);
  };
  const { till, tender, hour } = asked;
  if (typeof till === "string" && /^\d{1,6}$/.test(till)) {
    filter.tillNumber = Number(till);
    keep("till", till, `till ${till}`);
  }
  if (typeof tender === "string" && tenders.has(tender)) {
    filter.tender = tender;
    keep("tender", tender, `paid by ${tenderName(tender).toLowerCase()}`);
  }
  const span = typeof hour === "string" ? hourSpan(hour, guild.timeZone) : undefined;
  if (span && typeof hour === "string") {
    Object.assign(filter, span);
    keep("hour", hour, `in the hour from ${hourText(hour, guild)}`);
  }
  return { filter, kept, words };
}

const tenders = new Set(["cash", "cheque", "card", "other", "exchange"]);

/** From an hour on the guild's clocks to the next; the hour that comes twice in autumn is one. */
function hourSpan(hour: string, zone: string) {
  const start = new Date(`${hour}:00:00Z`);
  if (!/^\d{4}-\d\d-\d\dT\d\d$/.test(hour) || Number.isNaN(start.getTime())) return undefined;
  const later = new Date(start.getTime() + 3_600_000).toISOString().slice(0, 13);
  const from = instantOf(`${hour}:00`, zone);
  const to = instantOf(`${later}:00`, zone);
  return from && to ? { madeFrom: new Date(from), madeBefore: new Date(to) } : undefined;
}

async function linesPage(request: Request) {
  const { db } = request.server.parts;
  const sale = await saleNamed(request, (request.params as { saleId: string }).saleId);
  const guild = await guildWords(request);
  const asked = request.query as Asked;
  const kind = searchOf(asked.kind);
  const filter = { saleId: sale.id, kind, q: searchOf(asked.q) };
  const page = await listSoldLines(db, filter, { after: cursorOf(asked.after), limit: 50 });
  const sums = await sumSoldLines(db, filter);
  const path = `/books/${sale.id}/lines`;
  return {
    title: `Lines of receipts of ${sale.name}`,
    ...{ path, kind, q: filter.q, backHref: `/books/${sale.id}/takings` },
    only: kind === "" ? "" : (page.items[0]?.kind ?? "this kind"),
    sums: {
      pieces: sums.pieces === 1 ? "1 piece" : `${sums.pieces} pieces`,
      amount: guild.money(sums.amount),
      tax: guild.money(sums.tax),
      together: guild.money(sums.amount + sums.tax),
    },
    lines: page.items.map((row) => ({
      ...{ href: `/receipts/${row.receiptId}`, receipt: row.receipt, quantity: row.quantity },
      at: whenText(row.at, guild),
      what: row.tag ? `${showTag(row.tag)} ${row.description}` : row.description,
      amount: guild.money(row.amount),
      tax: guild.money(row.tax),
    })),
    nextHref: nextHref(path, page.next, { kind, q: filter.q }),
  };
}
