import type { IncomingMessage, ServerResponse } from "node:http";
import type { FastifyBaseLogger, FastifyInstance, RawServerDefault } from "fastify";
import type { ZodTypeProvider } from "fastify-type-provider-zod";
import { z } from "zod";
import type { App } from "../plugins/types.ts";

export type TypedApp = FastifyInstance<
  RawServerDefault,
  IncomingMessage,
  ServerResponse,
  FastifyBaseLogger,
  ZodTypeProvider
>;

/** The same app, with bodies and answers typed by their zod shapes. */
export const typed = (app: App): TypedApp =>
  app.withTypeProvider<ZodTypeProvider>() as unknown as TypedApp;

export const problemShape = z.object({
  type: z.string(),
  title: z.string(),
  status: z.number().int(),
  detail: z.string(),
  code: z.string(),
  requestId: z.string(),
  errors: z.array(z.object({ field: z.string(), pointer: z.string(), message: z.string() })),
});

/** The refusals every route can answer with, for the OpenAPI document. */
export const refusals = {
  "4xx": {
    description: "Refused: a problem document",
    content: { "application/problem+json": { schema: problemShape } },
  },
};

/** Lists are paged by a cursor that names the last row seen, so that new rows never shift a page. */
export const pageQuery = z.object({
  after: z.string().max(200).optional(),
  limit: z.coerce.number().int().min(1).max(200).default(50),
  q: z.string().trim().max(100).optional(),
});

export const pageOf = <T extends z.ZodType>(item: T) =>
  z.object({ items: z.array(item), next: z.string().nullable() });
