import { entriesAllowed, helpsOthers } from "../../actions/entry-rules.ts";
import { entryTotals, type ItemEvent, itemHistory } from "../../database/item-history.ts";
import { listItems, type ShownItem } from "../../database/items.ts";
import { findLabel } from "../../database/labels.ts";
import { firstPhotos, photosOf } from "../../database/photos.ts";
import { salesOfMember } from "../../database/sale-choice.ts";
import { findSale, type SaleRead } from "../../database/sales.ts";
import { makingOf } from "../../database/sold/making.ts";
import { notFound } from "../../plugins/errors.ts";
import { seenItem } from "../../plugins/seen-items.ts";
import type { App, Request } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import { questionsFor } from "../../rules/labels/cautions/cautions.ts";
import { momentText } from "../../rules/moment.ts";
import { allows } from "../../rules/sale-stage.ts";
import { makingValues } from "../bench/making-fields.ts";
import { checkInLine } from "../check-in/own-line.ts";
import { wantId } from "../want-id.ts";
import { changePages } from "./change-routes.ts";
import { draftRows } from "./draft-fields.ts";
import { draftPages } from "./draft-routes.ts";
import { entryPages } from "./entry-routes.ts";
import { type Fields, textOf } from "./fields.ts";
import { labelPanel } from "./label-panel.ts";
import { listPages } from "./list-routes.ts";
import { makingPages } from "./making-routes.ts";
import { manyPages } from "./many-routes.ts";
import { photoPages } from "./photo-routes.ts";
import { questionPages } from "./question-routes.ts";
import { saleItemPages } from "./sale-items.ts";
import { chosenSale } from "./scene.ts";
import { spreadsheetPages } from "./spreadsheet-routes.ts";
import { stockListPages } from "./stock-list-routes.ts";
import { unsoldPages } from "./unsold-routes.ts";
import { usualPages } from "./usual-routes.ts";
import { badgeOf, factsOf, type GuildWords, rowOf } from "./words.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };
const pageSize = 100;

/** Items: one's own, one of them, entering and changing them, and all of a sale. */
export async function itemPages(app: App): Promise<void> {
  await app.register(entryPages);
  await app.register(manyPages);
  await app.register(changePages);
  await app.register(questionPages);
  await app.register(photoPages);
  await app.register(draftPages);
  await app.register(saleItemPages);
  await app.register(spreadsheetPages);
  await app.register(listPages);
  await app.register(unsoldPages);
  await app.register(usualPages);
  await app.register(makingPages);
  await app.register(stockListPages);

  app.get("/items", mine, async (request, reply) => {
    const query = request.query as Fields;
    const sale = await chosenSale(request, textOf(query, "sale"));
    if (!sale) return reply.page("items/no-sale", { title: "My items" });
    return reply.page("items/list", await listPage(request, sale, query));
  });

  app.get<WithId>("/items/:id", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this item");
    const item = await seenItem(app.parts.db, request.who(), id);
    const sale = await findSale(app.parts.db, item.saleId);
    if (!sale) throw notFound("this item");
    return reply.page("items/item", await itemPage(request, item, sale));
  });
}

async function listPage(request: Request, sale: SaleRead, query: Fields) {
  const { db } = request.server.parts;
  const memberId = request.who().id;
  const guild = await db.guild.findFirstOrThrow();
  const q = textOf(query, "q").slice(0, 100);
  const after = textOf(query, "after") || undefined;
  const filter = { saleId: sale.id, memberId, q };
  const { items, next } = await listItems(db, filter, { after, limit: pageSize });
  const totals = await entryTotals(db, sale.id, memberId);
  const sales = await salesOfMember(db, memberId);
  const photos = await firstPhotos(
    db,
    items.map(({ id }) => id),
  );
  const here = `/items?sale=${sale.id}${q ? `&q=${encodeURIComponent(q)}` : ""}`;
  return {
    title: "My items",
    scripts: ["drafts.js"],
    ...{ drafts: await draftRows(request, guild), draftsOwner: memberId },
    ...{ q, saleId: sale.id, saleName: sale.name, totals },
    items: items.map((item) => ({ ...rowOf(item, guild), photo: photos.get(item.id) })),
    worth: formatMoney(totals.worth, guild.currency, guild.locale),
    checkIn: await checkInLine(request, sale),
    nextHref: next && `${here}&after=${next}`,
    mayEnter: entriesAllowed(sale, request.who(), request.server.now()).ok,
    deadline: momentText(new Date(sale.entryDeadline), guild.locale, guild.timeZone),
    open: sale.stage === "entries-open",
    sales: sales.length > 1 || (sales[0] && sales[0].id !== sale.id) ? saleLinks(sales, sale) : [],
    found: items.length > 0 || q !== "",
  };
}

const saleLinks = (sales: { id: string; name: string }[], shown: SaleRead) => {
  const all = sales.some(({ id }) => id === shown.id) ? sales : [shown, ...sales];
  return all.map(({ id, name }) => ({
    href: `/items?sale=${id}`,
    label: name,
    current: id === shown.id,
  }));
};

async function itemPage(request: Request, item: ShownItem, sale: SaleRead) {
  const { db } = request.server.parts;
  const actor = request.who();
  const guild = await db.guild.findFirstOrThrow();
  const own = item.memberId === actor.id;
  const changes = own || helpsOthers(actor);
  const atHome = item.pieces.withMember === item.pieces.entered;
  const fresh = item.state === "entered" || item.state === "turned-away";
  const open = entriesAllowed(sale, actor, request.server.now()).ok;
  const withdrawn = item.state === "withdrawn";
  return {
    title: `${item.shownTag} ${item.description}`,
    ...{ item, own, withdrawn, saleName: sale.name, itemHref: `/items/${item.id}` },
    values: own ? await ownMaking(request, item.id, guild.currency) : {},
    mayNoteElsewhere: item.pieces.withMember + item.pieces.onFloor > 0,
    badge: badgeOf(item),
    facts: factsOf(item, guild),
    label: labelPanel(await findLabel(db, item.id), item),
    photos: await photosOf(db, actor, item.id),
    photosHref: changes ? `/items/${item.id}/photos` : undefined,
    mayAnswer: changes && open && fresh && questionsFor(item.labelKind).length > 0,
    events: (await itemHistory(db, item.id)).map((event) => eventWords(event, guild)),
    listHref: own ? `/items?sale=${sale.id}` : `/sales/${sale.id}/items`,
    mayEdit: changes && open && fresh,
    why: changes && !withdrawn && !(open && fresh) ? whyFixed(fresh) : "",
    mayCopy: changes,
    mayKeep: own,
    mayPrint: changes && !withdrawn,
    pictureHref: withdrawn
      ? undefined
      : `/tags/picture.svg?item=${item.id}&stock=${guild.paper === "a4" ? "a4-21" : "letter-10"}`,
    mayMarkDown: changes && allows(sale.stage, "allow-markdown") && !withdrawn,
    mayWithdraw: changes && allows(sale.stage, "withdraw-item") && !withdrawn && atHome,
    mayPutBack: changes && allows(sale.stage, "withdraw-item") && withdrawn,
  };
}

/** What the member noted about making it; nobody else's page asks for it. */
async function ownMaking(request: Request, itemId: string, currency: string) {
  const which = { itemId, memberId: request.who().id };
  return makingValues(await makingOf(request.server.parts.db, which), currency);
}

/** Why nothing about the piece can be changed, for somebody who looks for the button. */
const whyFixed = (fresh: boolean): string =>
  fresh
    ? "Entries are closed. The desk can still help to change this piece."
    : "The desk has taken this piece in, so what its tag says stays as it is.";

const happened: Record<string, string> = {
  entered: "Entered",
  unentered: "Taken off the entry",
  "checked-in": "Taken in at the desk",
  "turned-away": "Turned away at the desk",
  sold: "Sold",
  returned: "Brought back by a customer",
  "picked-up": "Handed back to the member",
  donated: "Given to the guild",
  lost: "Noted as missing",
  found: "Found again",
};

function eventWords({ kind, quantity, reason, at }: ItemEvent, guild: GuildWords) {
  const words = happened[kind] ?? kind;
  return {
    when: momentText(at, guild.locale, guild.timeZone),
    what: quantity > 1 ? `${words}: ${quantity} pieces` : words,
    reason,
  };
}
