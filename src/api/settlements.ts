import { z } from "zod";
import { finaliseSettlement } from "../actions/finalise-settlement.ts";
import {
  finalisedShape,
  finaliseShape,
  previewMemberShape,
  previewShape,
  settlementShape,
} from "../contract/settlement.ts";
import { findSale } from "../database/sales.ts";
import { type PreviewMember, previewSettlement } from "../database/settlement-preview.ts";
import { listSettlements, listStatements, paidFilters } from "../database/settlements.ts";
import { gatherStatements } from "../database/statements.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { printFrozen } from "../printing/statement-words.ts";
import { rateAnswerWords } from "../rules/policy/rate-words.ts";
import { refusals, typed } from "./typed.ts";

const books = { access: ["treasurer", "chair"] as const };
const params = z.object({ id: z.uuid() });
const after = z.coerce.number().int().min(0).max(2_000_000_000).default(0);
const limit = z.coerce.number().int().min(1).max(200).default(50);

/** Settling a sale: preview, finalise, and the settlement as it stands for ever. */
export async function settlementApi(app: App): Promise<void> {
  await app.register(previews);
  await app.register(settlements);
}

async function previews(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/sales/:id/settlement/preview", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "Who would be owed what if the sale were settled now",
      description: "Pages of members by number; `after` is the last member number seen.",
      params,
      querystring: z.object({ after, limit }),
      response: { 200: previewShape, ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      const { members, ...whole } = await previewSettlement(db, id);
      const rest = members.filter(({ memberNumber }) => memberNumber > query.after);
      const items = rest.slice(0, query.limit).map(toldMember);
      const last = rest.length > items.length ? items.at(-1) : undefined;
      return { ...whole, items, next: last ? String(last.memberNumber) : null };
    },
  });

  route.get("/sales/:id/settlement/preview/:memberId", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "What one member would be owed, line by line with the ground of each percentage",
      params: params.extend({ memberId: z.uuid() }),
      response: { 200: previewMemberShape, ...refusals },
    },
    handler: async ({ params: { id, memberId } }) => {
      if (!(await findSale(db, id))) throw notFound("this sale");
      const { members } = await previewSettlement(db, id);
      const member = members.find((one) => one.memberId === memberId);
      if (!member) throw notFound("this member in the settlement");
      return toldMember(member);
    },
  });

  route.post("/sales/:id/settlements", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "Finalise exactly what the preview showed",
      params,
      body: finaliseShape,
      response: { 201: finalisedShape, ...refusals },
    },
    handler: async (request, reply) => {
      const input = { saleId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await finaliseSettlement(request.deed(), input)));
    },
  });
}

const toldMember = ({ payout, ...one }: PreviewMember) => ({
  ...{ ...one, payMethod: payout.method, payWhy: payout.why },
  lines: one.lines.map((line) => ({
    ...{ ...line, soldAt: line.soldAt.toISOString() },
    grounds: rateAnswerWords(line.answer),
  })),
});

async function settlements(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/settlements/:id", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "A settlement with a page of its statements",
      description: "`after` is the last statement number seen.",
      params,
      querystring: z.object({
        after,
        limit,
        q: z.string().trim().max(100).optional(),
        paid: z.enum(paidFilters).default("all"),
      }),
      response: { 200: settlementShape, ...refusals },
    },
    handler: async ({ params: { id }, query }) => {
      const [found] = await listSettlements(db, { id });
      if (!found) throw notFound("this settlement");
      const { items, next } = await listStatements(db, id, query);
      const at = found.at.toISOString();
      return { ...found, at, items, next: next === null ? null : String(next) };
    },
  });

  app.get<{ Params: { id: string } }>("/settlements/:id/statements.pdf", {
    config: books,
    schema: {
      tags: ["settlement"],
      summary: "All statements of a settlement by member number, as one PDF",
      params,
    },
    handler: async ({ params: { id } }, reply) => {
      const statements = await gatherStatements(db, { settlementId: id });
      if (statements.length === 0) throw notFound("statements of this settlement");
      return reply
        .type("application/pdf")
        .header("content-disposition", 'inline; filename="statements.pdf"')
        .send(Buffer.from(await printFrozen(statements)));
    },
  });
}
