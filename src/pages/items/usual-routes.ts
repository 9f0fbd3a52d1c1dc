import { editUsual, putUsualAway } from "../../actions/usual-pieces/change-usual.ts";
import { keepUsual } from "../../actions/usual-pieces/keep-usual.ts";
import { newUsualShape, usualEditShape } from "../../contract/usual-piece.ts";
import { findItem } from "../../database/items.ts";
import { findUsual, listUsual, type UsualPiece } from "../../database/usual-pieces.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { amountText, formatMoney, parseMoney } from "../../rules/currency.ts";
import { fibreName } from "../../rules/fibre.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { cursorOf, nextHref, searchOf, wantId } from "../want-id.ts";
import { type Fields, textOf } from "./fields.ts";
import { wrongFields } from "./form.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };
const pageSize = 30;

/** What a member makes again and again: kept from an entry, and an entry to start from. */
export async function usualPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get("/items/usual", mine, async (request, reply) => listPage(request, reply));

  app.get("/items/usual/new", mine, async (request, reply) => {
    const item = await ownItem(request, textOf(request.query as Fields, "item"));
    return newPage(reply, item, { name: item.description });
  });

  app.post("/items/usual", mine, async (request, reply) => {
    const body = request.body as Fields;
    const item = await ownItem(request, textOf(body, "itemId"));
    const read = readForm(newUsualShape, body);
    const kept = read.ok ? await keepUsual(request.deed(), read.value) : read;
    if (!kept.ok) return newPage(reply, item, body, kept.problem);
    return reply.seeOther("/items/usual", {
      kind: "good",
      text: "Kept. Start from it whenever you make the same again.",
    });
  });

  app.get<WithId>("/items/usual/:id", mine, async (request, reply) => {
    const piece = await ownUsual(request);
    const guild = await db.guild.findFirstOrThrow();
    const { name, price, version } = piece;
    const values = { name, price: amountText(price, guild.currency), version };
    return usualPage(request, reply, { piece, values });
  });

  app.post<WithId>("/items/usual/:id", mine, async (request, reply) => {
    const piece = await ownUsual(request);
    const body = request.body as Fields;
    const edited = await edit(request, piece, body);
    if (!edited.ok)
      return usualPage(request, reply, { piece, values: body, problem: edited.problem });
    return reply.seeOther(`/items/usual/${piece.id}`, { kind: "good", text: "Saved." });
  });

  for (const [path, away, text] of [
    ["put-away", true, "Put away. It stands under “Put away” and can be brought back."],
    ["bring-back", false, "It is back among your usual pieces."],
  ] as const)
    app.post<WithId>(`/items/usual/:id/${path}`, mine, async (request, reply) => {
      const { id } = await ownUsual(request);
      const version = versionOf(request.body as Fields);
      orRefuse(await putUsualAway(request.deed(), { id, version, away }, app.now()));
      return reply.seeOther("/items/usual", { kind: "good", text });
    });
}

const versionOf = (body: Fields): number =>
  Number(/^\d{1,9}$/.exec(textOf(body, "version"))?.[0] ?? 0);

async function edit(request: Request, { id }: UsualPiece, body: Fields) {
  const guild = await request.server.parts.db.guild.findFirstOrThrow();
  const price = parseMoney(textOf(body, "price"), guild.currency, "price");
  const read = readForm(usualEditShape, {
    name: textOf(body, "name"),
    price: price.ok ? price.value : 1,
    version: versionOf(body) || 1,
  });
  const errors = [
    ...(read.ok ? [] : read.problem.errors),
    ...(price.ok ? [] : price.problem.errors),
  ];
  if (!read.ok || errors.length > 0) return wrongFields(errors);
  return editUsual(request.deed(), { ...read.value, id });
}

/** Only one's own piece becomes a usual one, also for the desk. */
async function ownItem(request: Request, id: string) {
  const item = await findItem(request.server.parts.db, wantId(id, "this item"));
  if (!item || item.memberId !== request.who().id) throw notFound("this item");
  return item;
}

async function ownUsual(request: Request): Promise<UsualPiece> {
  const id = wantId((request.params as { id: string }).id, "this usual piece");
  const piece = await findUsual(request.server.parts.db, request.who().id, id);
  if (!piece) throw notFound("this usual piece");
  return piece;
}

function newPage(
  reply: Reply,
  item: { id: string; description: string },
  values: object,
  problem?: Problem,
) {
  const data = {
    title: "Keep as a usual piece",
    ...{ itemId: item.id, description: item.description, values, problem },
  };
  return reply.page("items/usual-new", data, problem?.status ?? 200);
}

async function listPage(request: Request, reply: Reply) {
  const { db } = request.server.parts;
  const query = request.query as Fields;
  const q = searchOf(query.q);
  const away = textOf(query, "away") === "yes";
  const guild = await db.guild.findFirstOrThrow();
  const filter = { memberId: request.who().id, q, away };
  const after = cursorOf(query.after);
  const { items, next } = await listUsual(db, filter, { after, limit: pageSize });
  const kept = { q, away: away ? "yes" : "" };
  return reply.page("items/usual", {
    title: "My usual pieces",
    ...{ q, away },
    pieces: items.map((piece) => pieceWords(piece, guild)),
    nextHref: nextHref("/items/usual", next, kept),
    places: [
      { href: "/items/usual", label: "In use", current: !away },
      { href: "/items/usual?away=yes", label: "Put away", current: away },
    ],
  });
}

const pieceWords = (piece: UsualPiece, guild: { currency: string; locale: string }) => ({
  ...{ id: piece.id, name: piece.name, description: piece.description },
  href: `/items/usual/${piece.id}`,
  newHref: `/items/new?usual=${piece.id}`,
  manyHref: `/items/many?usual=${piece.id}`,
  more: [piece.kindName, piece.size, piece.technique].filter(Boolean).join(", "),
  fibres: piece.fibres.map(({ fibre, percent }) => `${percent} % ${fibreName(fibre)}`).join(", "),
  price: formatMoney(piece.price, guild.currency, guild.locale),
});

async function usualPage(
  request: Request,
  reply: Reply,
  shown: { piece: UsualPiece; values: object; problem?: Problem },
) {
  const { piece, values, problem } = shown;
  const guild = await request.server.parts.db.guild.findFirstOrThrow();
  const data = {
    title: piece.name,
    ...{ piece: pieceWords(piece, guild), values, problem },
    version: piece.version,
    away: piece.putAwayAt !== null,
  };
  return reply.page("items/usual-piece", data, problem?.status ?? 200);
}
