import { listItems } from "../../database/items.ts";
import { type ElsewhereRead, listElsewhere, outletsOf } from "../../database/sold/elsewhere.ts";
import { makingOf } from "../../database/sold/making.ts";
import type { Request } from "../../plugins/types.ts";
import { amountText } from "../../rules/currency.ts";
import { dayIn, dayText } from "../../rules/day.ts";
import { fibreList } from "../../rules/fibre.ts";
import type { Problem } from "../../rules/problem.ts";
import { piecesWords } from "../../rules/sold/words.ts";
import { type GuildWords, guildWords } from "../books/scene.ts";
import { fibreValues } from "../items/fibre-rows.ts";
import { cursorOf, isId, nextHref, searchOf } from "../want-id.ts";
import { benchNav } from "./bench-nav.ts";
import { makingValues } from "./making-fields.ts";

const path = "/bench/elsewhere";

/** A member's sales elsewhere, the latest first. */
export async function elsewherePage(request: Request) {
  const { db } = request.server.parts;
  const guild = await guildWords(request);
  const query = request.query as { q?: unknown; after?: unknown };
  const q = searchOf(query.q);
  const page = { q, after: cursorOf(query.after), limit: 50 };
  const { items, next } = await listElsewhere(db, request.who().id, page);
  return {
    title: "Sold elsewhere",
    ...{ rooms: benchNav(path), path, q, any: items.length > 0 || q !== "" },
    sales: items.map((one) => saleRow(one, guild)),
    next: nextHref(path, next, { q }),
  };
}

const saleRow = (one: ElsewhereRead, { money, locale }: GuildWords) => ({
  href: `${path}/${one.id}`,
  day: dayText(one.day, locale),
  ...{ outlet: one.outlet, description: one.description, takenBack: one.takenBack },
  more: [one.kindName, one.colours].filter(Boolean).join(", "),
  ...{ quantity: one.quantity, price: money(one.price) },
  ...{ kept: money(one.kept), left: money(one.left) },
});

interface FormPage {
  title: string;
  action: string;
  values: Readonly<Record<string, unknown>>;
  problem?: Problem | undefined;
  /** The kind of a note that is changed stays in the list. */
  kind?: string;
  /** The note that is changed, for taking it back. */
  note?: ElsewhereRead;
}

/** The form of a note, new or changed, with everything that was typed. */
export async function formPage(request: Request, { kind = "", note, ...page }: FormPage) {
  const { db } = request.server.parts;
  const kinds = await db.kind.findMany({ orderBy: { position: "asc" } });
  const itemId = String(page.values.itemId ?? "");
  const own = { id: itemId, memberId: request.who().id };
  const item = isId(itemId) ? await db.item.findFirst({ where: own }) : null;
  return {
    ...{ ...page, path, rooms: benchNav(path) },
    kinds: kinds
      .filter(({ active, code }) => active || code === kind)
      .map(({ code, name }) => ({ value: code, label: name })),
    fibreList: fibreList.map(({ code, name }) => ({ value: code, label: name })),
    fibreRows: [0, 1, 2, 3].map((row) => ({ name: `fibres.${row}`, number: row + 1 })),
    outlets: await outletsOf(db, request.who().id),
    picked: item && { description: item.description, href: `/items/${item.id}` },
    takenBack: note?.takenBack === true,
    backTitle: note && !note.takenBack ? `${piecesWords(note.quantity)} at ${note.outlet}` : "",
    version: note?.version,
  };
}

/** What a new form starts with: today, or what is known of an own piece that was picked. */
export async function newValues(request: Request): Promise<Record<string, string>> {
  const { db } = request.server.parts;
  const { currency, timeZone } = await guildWords(request);
  const today = { day: dayIn(request.server.now(), timeZone) };
  const { item: asked } = request.query as { item?: unknown };
  const memberId = request.who().id;
  if (typeof asked !== "string" || !isId(asked)) return today;
  const { items } = await listItems(db, { memberId, id: asked }, { limit: 1 });
  const [item] = items;
  if (!item) return today;
  return {
    ...today,
    ...{ itemId: item.id, kind: item.kind, description: item.description, colours: item.colours },
    price: amountText(item.price, currency),
    ...makingValues(await makingOf(db, { itemId: item.id, memberId }), currency),
    ...Object.fromEntries(fibreValues(item.fibres, "fibres")),
  };
}

/** Own pieces at home or on the floor, to pick one from. */
export async function pickPage(request: Request) {
  const { db } = request.server.parts;
  const guild = await guildWords(request);
  const query = request.query as { q?: unknown; after?: unknown };
  const q = searchOf(query.q);
  const after = typeof query.after === "string" ? query.after : undefined;
  const filter = { memberId: request.who().id, q, place: "unsold" as const };
  const { items, next } = await listItems(db, filter, { ...(after ? { after } : {}), limit: 50 });
  const here = `${path}/pick`;
  return {
    title: "Pick one of my unsold pieces",
    ...{ rooms: benchNav(path), path: here, q, any: items.length > 0 || q !== "" },
    items: items.map((item) => ({
      href: `${path}/new?item=${item.id}`,
      ...{ tag: item.shownTag, description: item.description },
      more: [item.kindName, item.colours].filter(Boolean).join(", "),
      price: guild.money(item.price),
    })),
    next: nextHref(here, next, { q }),
  };
}
