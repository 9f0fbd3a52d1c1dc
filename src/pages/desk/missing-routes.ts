import {
  countLeft,
  type LeftPiece,
  type LeftPlace,
  leftPlaces,
  listLeft,
} from "../../database/left-pieces.ts";
import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { formatMoney } from "../../rules/currency.ts";
import type { Problem } from "../../rules/problem.ts";
import { hasAny } from "../../rules/roles.ts";
import { allows } from "../../rules/sale-stage.ts";
import { showTag } from "../../rules/tag-number.ts";
import { type Fields, textOf, tickedOf } from "../items/fields.ts";
import { nextHref, searchOf, wantId } from "../want-id.ts";
import { accountFor } from "./missing-form.ts";
import { tallyNotice } from "./tally.ts";

type WithSale = { Params: { saleId: string } };
const accounts = { config: { access: ["desk", "treasurer", "chair"] as const } };
const pageSize = 50;

const placeWords: Record<LeftPlace, string> = {
  floor: "Still on the floor",
  lost: "Missing",
  guild: "Left with the guild",
};

const emptyWords: Record<LeftPlace, { title: string; text: string }> = {
  floor: {
    title: "Nothing is left on the floor",
    text: "Every piece was sold, has gone home, or is accounted for in the other lists.",
  },
  lost: {
    title: "Nothing is missing",
    text: "A piece that nobody finds is ticked in the list of what is still on the floor, and noted as missing.",
  },
  guild: {
    title: "Nothing was left with the guild",
    text: "Pieces that their members leave to the guild after the sale stand here.",
  },
};

const floorDeeds = [
  { value: "home", label: "They have gone home" },
  { value: "lost", label: "Nobody finds them: they are missing" },
  { value: "guild", label: "They stay with the guild" },
];

/** What is neither sold nor handed back: it goes home, is missing, or stays with the guild. */
export async function missingPages(app: App): Promise<void> {
  app.get<WithSale>("/desk/:saleId/missing", accounts, async (request, reply) =>
    reply.page("desk/missing", await page(request, await saleOf(request), request.query as Fields)),
  );

  app.post<WithSale>("/desk/:saleId/missing", accounts, async (request, reply) => {
    const sale = await saleOf(request);
    const body = request.body as Fields;
    const done = await accountFor(request, sale.id, body);
    if (!done.ok) {
      const again = await page(request, sale, body, done.problem);
      return reply.page("desk/missing", again, done.problem.status);
    }
    const { tally, word } = done.value;
    const kept = { place: placeOf(body), q: searchOf(body.q) };
    return reply.seeOther(
      `/desk/${sale.id}/missing?${new URLSearchParams(kept)}`,
      tallyNotice(tally, word),
    );
  });
}

async function saleOf(request: Request): Promise<SaleRead> {
  const { saleId } = request.params as { saleId: string };
  const sale = await findSale(request.server.parts.db, wantId(saleId, "this sale"));
  if (!sale) throw notFound("this sale");
  return sale;
}

const placeOf = (given: Fields): LeftPlace =>
  leftPlaces.find((one) => one === textOf(given, "place")) ?? "floor";

async function page(request: Request, sale: SaleRead, given: Fields, problem?: Problem) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const place = placeOf(given);
  const q = searchOf(given.q);
  const after = /^\d{1,10}$/.exec(textOf(given, "after"))?.[0];
  const { items, next } = await listLeft(db, sale.id, { place, q, after, limit: pageSize });
  const counts = await countLeft(db, sale.id);
  const path = `/desk/${sale.id}/missing`;
  return {
    title: "Pieces left over or missing",
    ...{ problem, values: problem ? given : {}, path, place, q, after },
    saleName: sale.name,
    back: wayBack(request, sale),
    places: leftPlaces.map((one) => ({
      href: `${path}?${new URLSearchParams({ place: one, q })}`,
      label: `${placeWords[one]}: ${counts[one]}`,
      current: one === place,
    })),
    mayAct: allows(sale.stage, "account-for") && place !== "guild",
    closed: !allows(sale.stage, "account-for"),
    isFloor: place === "floor",
    deeds: floorDeeds,
    heading: placeWords[place],
    empty: emptyWords[place],
    pieces: items.map((piece) => rowOf(piece, place, guild, problem ? given : {})),
    next: nextHref(path, next, { place, q }),
  };
}

/** The treasurer comes from the settlement and may not see the desk. */
const wayBack = (request: Request, { id, name }: SaleRead) =>
  hasAny(request.who().roles, ["treasurer", "chair"])
    ? { href: `/books/${id}/settlement`, label: `Settlement of ${name}` }
    : { href: `/desk?sale=${id}`, label: "Desk" };

function rowOf(
  piece: LeftPiece,
  place: LeftPlace,
  guild: { currency: string; locale: string },
  typed: Fields,
) {
  const { tag, description, memberNumber, memberName, price, itemId } = piece;
  const count = { floor: piece.onFloor, lost: piece.lost, guild: piece.withGuild }[place];
  return {
    ...{ tag, description, count, href: `/items/${itemId}` },
    shownTag: showTag(tag),
    member: `${memberNumber} ${memberName}`,
    price: formatMoney(price, guild.currency, guild.locale),
    many: count > 1,
    quantityName: `quantity-${tag}`,
    ticked: tickedOf(typed, "tags").includes(tag),
  };
}
