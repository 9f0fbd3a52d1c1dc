import { helpsOthers } from "../../actions/entry-rules.ts";
import {
  putListBack,
  type TakenBack,
  takeListBack,
} from "../../actions/item-lists/take-list-back.ts";
import { findItemList, listItemLists, type ShownList } from "../../database/item-lists.ts";
import { listItems } from "../../database/items.ts";
import { findSale } from "../../database/sales.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { momentText } from "../../rules/moment.ts";
import { allows } from "../../rules/sale-stage.ts";
import { cursorOf, wantId } from "../want-id.ts";
import { type Fields, textOf } from "./fields.ts";
import { type GuildWords, rowOf } from "./words.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };
const pageSize = 20;
const piecesShown = 100;

/** Lists that were entered in one go, and taking one of them back. */
export async function listPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get("/items/lists", mine, async (request, reply) => {
    const after = cursorOf(textOf(request.query as Fields, "after"));
    const guild = await db.guild.findFirstOrThrow();
    const memberId = request.who().id;
    const { items, next } = await listItemLists(db, { memberId }, { after, limit: pageSize });
    return reply.page("items/lists", {
      title: "Lists you have entered",
      lists: items.map((list) => ({ ...listWords(list, guild), href: `/items/lists/${list.id}` })),
      nextHref: next && `/items/lists?after=${next}`,
    });
  });

  app.get<WithId>("/items/lists/:id", mine, async (request, reply) => {
    const list = await seenList(request, request.params.id);
    return reply.page("items/list-entered", await listPage(request, list));
  });

  app.post<WithId>("/items/lists/:id/withdrawal", mine, async (request, reply) => {
    const listId = wantId(request.params.id, "this list");
    const done = orRefuse(await takeListBack(request.deed(), { listId }, app.now()));
    const text = `${piecesOf(done)} withdrawn.${keptWords(done)} If that was a mistake, put them back below.`;
    return reply.seeOther(`/items/lists/${listId}`, { kind: "good", text });
  });

  app.post<WithId>("/items/lists/:id/withdrawal/undo", mine, async (request, reply) => {
    const listId = wantId(request.params.id, "this list");
    const done = orRefuse(await putListBack(request.deed(), { listId }));
    const text = `${piecesOf(done)} back on your list, with the same tag numbers.`;
    return reply.seeOther(`/items/lists/${listId}`, { kind: "good", text });
  });
}

const piecesOf = ({ tags }: TakenBack): string =>
  tags.length === 1 ? "1 entry is" : `${tags.length} entries are`;

const keptWords = ({ kept }: TakenBack): string =>
  kept === 0 ? "" : kept === 1 ? " 1 stays as it is." : ` ${kept} stay as they are.`;

async function seenList(request: Request, id: string): Promise<ShownList> {
  const actor = request.who();
  const list = await findItemList(request.server.parts.db, wantId(id, "this list"));
  if (!list || !(list.memberId === actor.id || helpsOthers(actor))) throw notFound("this list");
  return list;
}

const sourceWords = {
  spreadsheet: "From a spreadsheet",
  unsold: "Unsold pieces brought again",
} as const;

function listWords(list: ShownList, guild: GuildWords) {
  const { pieces, asEntered, withdrawn, leftOut } = list;
  const taken = pieces - asEntered - withdrawn;
  const states = [
    [asEntered, "as entered"],
    [taken, "taken in at the desk"],
    [withdrawn, "withdrawn"],
  ] as const;
  return {
    when: momentText(new Date(list.enteredAt), guild.locale, guild.timeZone),
    what: sourceWords[list.source],
    saleName: list.saleName,
    pieces,
    leftOut,
    state: states
      .filter(([count]) => count > 0)
      .map(([count, words]) => `${count} ${words}`)
      .join(", "),
  };
}

async function listPage(request: Request, list: ShownList) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const sale = await findSale(db, list.saleId);
  const after = textOf(request.query as Fields, "after") || undefined;
  const filter = { listId: list.id };
  const { items, next } = await listItems(db, filter, { after, limit: piecesShown });
  const own = list.memberId === request.who().id;
  const open = sale !== null && allows(sale.stage, "withdraw-item");
  return {
    title: sourceWords[list.source],
    ...listWords(list, guild),
    listHref: own ? "/items/lists" : `/desk/members/${list.memberNumber}?sale=${list.saleId}`,
    back: own ? "Lists you have entered" : `Member ${list.memberNumber}`,
    newTags: list.source === "unsold",
    tagsHref: `/tags?sale=${list.saleId}`,
    path: `/items/lists/${list.id}`,
    items: items.map((item) => rowOf(item, guild)),
    nextHref: next && `/items/lists/${list.id}?after=${next}`,
    mayTakeBack: open && list.asEntered > 0,
    mayPutBack: open && list.takenBack > 0,
    takenBack: list.takenBack,
    asEntered: list.asEntered,
  };
}
