import { z } from "zod";
import { enrolTill } from "../actions/enrol-till.ts";
import { catalogueDelta, tillScene, tillStatus } from "../contract/till-device.ts";
import { enrolledShape, enrolmentShape } from "../contract/till-enrolment.ts";
import { readDeviceScene } from "../database/device-scene.ts";
import { catalogueJson, readCatalogue } from "../database/till-catalogue.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import { hashToken, randomToken } from "../plugins/session/tokens.ts";
import { noteSaid, rememberTill, tillOf } from "../plugins/till-device.ts";
import type { App, Reply, Request } from "../plugins/types.ts";
import { cursorShape } from "./cursor.ts";
import { tillEvents } from "./till-events.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["till device"];
const till = { access: "till" as const };
/** The cookie of the device instead of a person's token. */
const security = [{ tillCookie: [] }];

/** What a till's own device asks; it is known by its cookie, and nobody is signed in on it. */
export async function tillDeviceApi(app: App): Promise<void> {
  await app.register(enrolment);
  await app.register(whatATillKnows);
  await app.register(tillEvents);
}

async function enrolment(app: App): Promise<void> {
  typed(app).post("/till/enrolment", {
    config: { access: "public", keyless: true, tokenless: true },
    schema: {
      tags,
      summary: "Make this device a till with a code of the chair; answers with the device's cookie",
      security: [],
      body: enrolmentShape,
      response: { 201: enrolledShape, ...refusals },
    },
    handler: async (request, reply) => {
      const token = randomToken();
      const tokenHash = hashToken(token);
      const from = { source: request.ip, requestId: request.id, now: app.now() };
      const enrolled = orRefuse(
        await enrolTill(app.parts.db, { ...request.body, ...from, tokenHash }),
      );
      rememberTill(request as unknown as Request, reply as unknown as Reply, token);
      return reply.code(201).send(enrolled);
    },
  });
}

async function whatATillKnows(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/till/scene", {
    config: till,
    schema: {
      tags,
      security,
      summary: "The sale, the session, the guild's goods and the cashiers of this till",
      response: { 200: tillScene, ...refusals },
    },
    handler: async (request) => {
      const scene = await readDeviceScene(db, tillOf(request).tillId);
      if (!scene) throw notFound("this till");
      return { ...scene, mail: app.parts.settings.mail !== undefined };
    },
  });

  route.get("/till/catalogue", {
    config: till,
    schema: {
      tags,
      security,
      summary: "The goods of the sale: all of them, or what changed since a cursor",
      querystring: z.object({ after: cursorShape.optional() }),
      response: { 200: catalogueDelta, ...refusals },
    },
    handler: async (request, reply) => {
      const found = await readCatalogue(db, tillOf(request).saleId, request.query.after);
      // Ready bytes pass as they are; checking 50,000 items once more would hold up every till.
      return reply
        .type("application/json; charset=utf-8")
        .send(Buffer.from(catalogueJson(found)) as never);
    },
  });

  route.post("/till/status", {
    config: { ...till, keyless: true },
    schema: {
      tags,
      security,
      summary: "What this till has not sent yet, for the chair to see",
      body: tillStatus,
      response: { 204: z.null(), ...refusals },
    },
    handler: async (request, reply) => {
      await noteSaid(request as unknown as Request, request.body);
      return reply.code(204).send(null);
    },
  });
}
