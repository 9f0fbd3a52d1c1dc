import { z } from "zod";
import { makeTillCode } from "../actions/make-till-code.ts";
import { markTillLost } from "../actions/mark-till-lost.ts";
import { clearPin, setPin } from "../actions/set-pin.ts";
import { pinShape } from "../contract/pin.ts";
import { lossShape, tillCodeShown, tillWithDevice } from "../contract/till-enrolment.ts";
import { findSale } from "../database/sales.ts";
import { listTillDevices } from "../database/till-devices.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { showCode } from "../rules/till-code.ts";
import { refusals, typed } from "./typed.ts";

const chair = { access: ["chair"] as const };
const params = z.object({ id: z.uuid() });
const tillParams = params.extend({ tillId: z.uuid() });

/** Which devices are tills, and who may take over at one. */
export async function tillDevicesApi(app: App): Promise<void> {
  await app.register(devices);
  await app.register(pins);
}

async function devices(app: App): Promise<void> {
  const route = typed(app);

  route.get("/sales/:id/till-devices", {
    config: { access: ["treasurer", "chair"] },
    schema: {
      tags: ["till device"],
      summary: "The devices of a sale's tills: when last seen, and what they have not sent",
      params,
      response: { 200: z.object({ items: z.array(tillWithDevice) }), ...refusals },
    },
    handler: async ({ params: { id } }) => {
      if (!(await findSale(app.parts.db, id))) throw notFound("this sale");
      return { items: await listTillDevices(app.parts.db, id) };
    },
  });

  route.post("/sales/:id/tills/:tillId/code", {
    // Every call makes a fresh code and ends the one before, so no key could repeat its answer.
    config: { ...chair, keyless: true },
    schema: {
      tags: ["till device"],
      summary: "A code that makes one device this till, once, within fifteen minutes",
      params: tillParams,
      response: { 201: tillCodeShown, ...refusals },
    },
    handler: async (request, reply) => {
      const { id: saleId, tillId } = request.params;
      const given = { saleId, tillId, now: app.now() };
      const { code, expiresAt } = orRefuse(await makeTillCode(request.deed(), given));
      return reply.code(201).send({ code: showCode(code), expiresAt });
    },
  });

  route.post("/sales/:id/tills/:tillId/loss", {
    config: chair,
    schema: {
      tags: ["till device"],
      summary: "The device is gone for good: it counts for nothing from now on",
      params: tillParams,
      body: lossShape,
      response: { 201: z.object({ tillId: z.uuid(), unsent: z.int() }), ...refusals },
    },
    handler: async (request, reply) => {
      const { id: saleId, tillId } = request.params;
      const lost = await markTillLost(request.deed(), { saleId, tillId, ...request.body });
      return reply.code(201).send(orRefuse(lost));
    },
  });
}

async function pins(app: App): Promise<void> {
  const route = typed(app);

  route.put("/pin", {
    config: { access: ["cashier", "chair"], keyless: true },
    schema: {
      tags: ["till device"],
      summary: "Choose one's own PIN for taking over a till",
      body: pinShape,
      response: { 204: z.null(), ...refusals },
    },
    handler: async (request, reply) => {
      orRefuse(await setPin(request.deed(), request.body.pin));
      return reply.code(204).send(null);
    },
  });

  route.delete("/members/:id/pin", {
    config: chair,
    schema: {
      tags: ["till device"],
      summary: "Take a member's PIN away",
      params,
      response: { 204: z.null(), ...refusals },
    },
    handler: async (request, reply) => {
      orRefuse(await clearPin(request.deed(), request.params.id));
      return reply.code(204).send(null);
    },
  });
}
