import { z } from "zod";
import { setManySellers } from "../actions/sellers/set-many-sellers.ts";
import { setSeller } from "../actions/sellers/set-seller.ts";
import { manySellersShape, sellerShape, sellerShown } from "../contract/seller.ts";
import type { Database } from "../database/client.ts";
import { findSale } from "../database/sales.ts";
import { findSeller, listSellers } from "../database/seller-list.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { pageOf, pageQuery, refusals, typed } from "./typed.ts";

const books = { access: ["chair", "treasurer"] as const };
const params = z.object({ id: z.uuid() });
const one = params.extend({ memberId: z.uuid() });
const tags = ["sales"];

async function sellerOf(db: Database, { id, memberId }: z.output<typeof one>) {
  const seller = (await findSale(db, id)) && (await findSeller(db, id, memberId));
  if (!seller) throw notFound("this member at this sale");
  return seller;
}

/** Under which terms members sell at a sale. */
export async function sellerApi(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/sales/:id/sellers", {
    config: books,
    schema: {
      tags,
      summary: "Members with their terms in a sale and what the guild keeps because of them",
      description: "`after` is the last member number seen.",
      params,
      querystring: pageQuery.extend({
        after: z.coerce.number().int().min(0).max(9_999).default(0),
        inSale: z.stringbool().default(false).describe("Only who has to do with the sale"),
      }),
      response: { 200: pageOf(sellerShown), ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      const { items, next } = await listSellers(db, id, query);
      return { items, next: next === null ? null : String(next) };
    },
  });

  route.get("/sales/:id/sellers/:memberId", {
    config: books,
    schema: {
      tags,
      summary: "One member's terms in a sale",
      params: one,
      response: { 200: sellerShown, ...refusals },
    },
    handler: async ({ params }) => sellerOf(db, params),
  });

  route.put("/sales/:id/sellers/:memberId", {
    config: books,
    schema: {
      tags,
      summary: "Note one member's terms, from the version that was read; 0 if there was none",
      params: one,
      body: sellerShape,
      response: { 200: sellerShown, ...refusals },
    },
    handler: async (request) => {
      const { id: saleId, memberId } = request.params;
      orRefuse(await setSeller(request.deed(), { saleId, memberId }, request.body));
      return sellerOf(db, request.params);
    },
  });

  route.post("/sales/:id/sellers/changes", {
    config: books,
    schema: {
      tags,
      summary: "One change for several members, such as: all of these are on the committee",
      params,
      body: manySellersShape,
      response: { 201: z.object({ members: z.int() }), ...refusals },
    },
    handler: async (request, reply) => {
      const done = await setManySellers(request.deed(), request.params.id, request.body);
      return reply.code(201).send(orRefuse(done));
    },
  });
}
