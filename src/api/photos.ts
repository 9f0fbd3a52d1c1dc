import multipart from "@fastify/multipart";
import { z } from "zod";
import { addPhoto } from "../actions/photos/add-photo.ts";
import { editPhoto } from "../actions/photos/edit-photo.ts";
import { removePhoto } from "../actions/photos/remove-photo.ts";
import { photoAlt, photoEditShape, shownPhotoShape } from "../contract/photo.ts";
import { photosOf } from "../database/photos.ts";
import { orRefuse } from "../plugins/errors.ts";
import { seenItem } from "../plugins/seen-items.ts";
import type { App, Request } from "../plugins/types.ts";
import { mostPhotoBytes, photoWords } from "../rules/photo.ts";
import { refuseField } from "../rules/problem.ts";
import { refusals, typed } from "./typed.ts";

const tags = ["items"];
const mine = { access: "signed-in" as const };
const itemParams = z.object({ id: z.uuid() });
const photoParams = z.object({ id: z.uuid(), photoId: z.uuid() });
const list = z.object({ items: z.array(shownPhotoShape) });

/** One byte more than we take: what is cut off there was too large, and that is told in words. */
const limits = { fileSize: mostPhotoBytes + 1, files: 1, fields: 3, fieldSize: 2_000, parts: 4 };

const uploadShape = z.strictObject({
  file: z
    .unknown()
    .optional()
    .meta({ type: "string", format: "binary", description: "A JPEG, PNG or WebP picture" }),
  alt: photoAlt.default(""),
});

export async function photoApi(app: App): Promise<void> {
  const route = typed(app);
  await app.register(multipart, {
    attachFieldsToBody: "keyValues",
    throwFileSizeLimit: false,
    limits,
  });

  route.get("/items/:id/photos", {
    config: mine,
    schema: {
      tags,
      summary: "The photos of an item, each with the addresses of its two sizes",
      params: itemParams,
      response: { 200: list, ...refusals },
    },
    handler: async (request) => shownTo(request, request.params.id),
  });

  route.post("/items/:id/photos", {
    config: mine,
    schema: {
      tags,
      summary: "Add a photo; it is made smaller, and what the camera noted in it is left out",
      consumes: ["multipart/form-data"],
      params: itemParams,
      body: uploadShape,
      response: { 201: list, ...refusals },
    },
    handler: async (request, reply) => {
      const { file, alt } = request.body;
      if (!(file instanceof Uint8Array)) return orRefuse(refuseField("file", photoWords.none));
      const itemId = request.params.id;
      orRefuse(await addPhoto(request.deed(), { itemId, bytes: file, alt }));
      return reply.code(201).send(await shownTo(request, itemId));
    },
  });

  route.patch("/items/:id/photos/:photoId", {
    config: mine,
    schema: {
      tags,
      summary: "Say what a photo shows, or give it another place, from the version that was read",
      params: photoParams,
      body: photoEditShape,
      response: { 200: list, ...refusals },
    },
    handler: async (request) => {
      const { id: itemId, photoId } = request.params;
      orRefuse(await editPhoto(request.deed(), { itemId, photoId, ...request.body }));
      return shownTo(request, itemId);
    },
  });

  route.delete("/items/:id/photos/:photoId", {
    config: mine,
    schema: {
      tags,
      summary: "Remove a photo for good",
      params: photoParams,
      response: { 200: list, ...refusals },
    },
    handler: async (request) => {
      const { id: itemId, photoId } = request.params;
      orRefuse(await removePhoto(request.deed(), { itemId, photoId }, app.now()));
      return shownTo(request, itemId);
    },
  });
}

async function shownTo(request: Request, itemId: string) {
  const { db } = request.server.parts;
  await seenItem(db, request.who(), itemId);
  return { items: await photosOf(db, request.who(), itemId) };
}
