import { countItems, type ItemPlace, itemPlaces, listItems } from "../../database/items.ts";
import { findSale, type SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { wantId } from "../want-id.ts";
import { type Fields, textOf } from "./fields.ts";
import { rowOf } from "./words.ts";

const pageSize = 50;

const placeWords: Record<ItemPlace, string> = {
  member: "With members",
  floor: "On the floor",
  buyer: "Sold",
  guild: "Given to the guild",
  lost: "Missing",
  withdrawn: "Withdrawn",
};

/** Every item of a sale, for those who look after all of them. */
export async function saleItemPages(app: App): Promise<void> {
  app.get<{ Params: { id: string } }>(
    "/sales/:id/items",
    { config: { access: ["desk", "treasurer", "chair"] } },
    async (request, reply) => {
      const sale = await findSale(app.parts.db, wantId(request.params.id, "this sale"));
      if (!sale) throw notFound("this sale");
      const data = await saleItemsPage(request, sale, request.query as Fields);
      return reply.page("items/of-sale", data);
    },
  );
}

async function saleItemsPage(request: Request, sale: SaleRead, query: Fields) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const q = textOf(query, "q").slice(0, 100);
  const place = itemPlaces.find((one) => one === textOf(query, "place"));
  const after = textOf(query, "after") || undefined;
  const filter = { saleId: sale.id, q, place };
  const { items, next } = await listItems(db, filter, { after, limit: pageSize });
  const total = await countItems(db, filter);
  const path = (more: Record<string, string | undefined>) => pathOf(sale.id, { q, ...more });
  return {
    title: `Items of ${sale.name}`,
    ...{ q, place, saleName: sale.name, saleHref: `/sales/${sale.id}`, total },
    action: `/sales/${sale.id}/items`,
    items: items.map((item) => rowOf(item, guild)),
    places: [
      { href: path({}), label: "All", current: !place },
      ...itemPlaces.map((one) => ({
        href: path({ place: one }),
        label: placeWords[one],
        current: one === place,
      })),
    ],
    nextHref: next && path({ place, after: next }),
    firstHref: after && path({ place }),
    range: `${items.length} of ${total} shown`,
  };
}

function pathOf(saleId: string, query: Record<string, string | undefined>): string {
  const given = Object.entries(query).filter((pair): pair is [string, string] => Boolean(pair[1]));
  const text = new URLSearchParams(given).toString();
  return `/sales/${saleId}/items${text ? `?${text}` : ""}`;
}
