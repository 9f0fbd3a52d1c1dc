import { z } from "zod";
import { acceptAgreement } from "../actions/accept-agreement.ts";
import { addTill, renameTill } from "../actions/tills.ts";
import { writeAgreement } from "../actions/write-agreement.ts";
import {
  acceptanceShape,
  agreementShape,
  agreementShown,
  tillShape,
  tillShown,
} from "../contract/sale.ts";
import { standingAgreement } from "../database/agreements.ts";
import { findSale, listTills } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { refusals, typed } from "./typed.ts";

const chair = { access: ["chair"] as const };
const anyone = { access: "signed-in" as const };
const params = z.object({ id: z.uuid() });

/** What belongs to a sale: its tills, and what members agree to. */
export async function salePartsApi(app: App): Promise<void> {
  await app.register(tillsOfSale);
  await app.register(agreementOfSale);
}

async function tillsOfSale(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/sales/:id/tills", {
    config: { access: ["cashier", "desk", "treasurer", "chair"] },
    schema: {
      tags: ["sales"],
      summary: "The tills of a sale",
      params,
      response: { 200: z.object({ items: z.array(tillShown) }), ...refusals },
    },
    handler: async (request) => {
      if (!(await findSale(db, request.params.id))) throw notFound("this sale");
      return { items: await listTills(db, request.params.id) };
    },
  });

  route.post("/sales/:id/tills", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "Add a till under the next number",
      params,
      body: tillShape,
      response: { 201: z.object({ id: z.uuid(), number: z.number().int() }), ...refusals },
    },
    handler: async (request, reply) => {
      const till = orRefuse(await addTill(request.deed(), request.params.id, request.body));
      return reply.code(201).send(till);
    },
  });

  route.patch("/sales/:id/tills/:tillId", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "Rename a till",
      params: params.extend({ tillId: z.uuid() }),
      body: tillShape,
      response: { 200: z.object({ id: z.uuid() }), ...refusals },
    },
    handler: async (request) => {
      const { id: saleId, tillId } = request.params;
      return orRefuse(await renameTill(request.deed(), { saleId, tillId, ...request.body }));
    },
  });
}

async function agreementOfSale(app: App): Promise<void> {
  const route = typed(app);

  route.get("/sales/:id/agreement", {
    config: anyone,
    schema: {
      tags: ["sales"],
      summary: "What members agree to, and whether the person who asks has",
      params,
      response: { 200: agreementShown, ...refusals },
    },
    handler: async (request) => {
      const { id } = request.params;
      const found = await standingAgreement(app.parts.db, id, request.who().id);
      if (!found) throw notFound("this sale");
      return found;
    },
  });

  route.post("/sales/:id/agreement", {
    config: chair,
    schema: {
      tags: ["sales"],
      summary: "A new wording: a new version, beside those accepted before",
      params,
      body: agreementShape,
      response: { 201: z.object({ version: z.number().int() }), ...refusals },
    },
    handler: async (request, reply) => {
      const made = await writeAgreement(request.deed(), request.params.id, request.body);
      return reply.code(201).send(orRefuse(made));
    },
  });

  route.post("/sales/:id/acceptances", {
    config: { access: ["member"] },
    schema: {
      tags: ["sales"],
      summary: "Accept the wording that stands",
      params,
      body: acceptanceShape,
      response: {
        201: z.object({ version: z.number().int(), acceptedAt: z.string() }),
        ...refusals,
      },
    },
    handler: async (request, reply) => {
      const { version } = request.body;
      const accepted = await acceptAgreement(request.deed(), request.params.id, version);
      return reply.code(201).send(orRefuse(accepted));
    },
  });
}
