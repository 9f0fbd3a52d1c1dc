import multipart from "@fastify/multipart";
import { z } from "zod";
import { helpsOthers } from "../../actions/entry-rules.ts";
import { addPhoto } from "../../actions/photos/add-photo.ts";
import { editPhoto } from "../../actions/photos/edit-photo.ts";
import { removePhoto } from "../../actions/photos/remove-photo.ts";
import { photoAlt, photoEditShape } from "../../contract/photo.ts";
import type { ShownItem } from "../../database/items.ts";
import { photosOf, pictureBytes, pictureSha, type ShownPhoto } from "../../database/photos.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import { seenItem } from "../../plugins/seen-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { mostPhotoBytes, mostPhotos, photoSizes, photoWords } from "../../rules/photo.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { type Fields, textOf } from "./fields.ts";

type WithId = { Params: { id: string } };
type WithPhoto = { Params: { id: string; photoId: string } };
const mine = { config: { access: "signed-in" as const } };

/** One byte more than we take: what is cut off there was too large, and that is told in words. */
const limits = { fileSize: mostPhotoBytes + 1, files: 1, fields: 6, fieldSize: 2_000, parts: 8 };

const photoForm = z.strictObject({
  file: z.instanceof(Uint8Array, { message: photoWords.none }),
  alt: photoAlt.default(""),
});

/** The photos of a piece: looking at them, adding, describing, ordering and removing. */
export async function photoPages(app: App): Promise<void> {
  await app.register(multipart, {
    attachFieldsToBody: "keyValues",
    throwFileSizeLimit: false,
    limits,
  });

  app.get<WithId>("/items/:id/photos", mine, async (request, reply) =>
    photosPage(request, reply, await ownPiece(request, request.params.id)),
  );

  app.post<WithId>("/items/:id/photos", mine, async (request, reply) => {
    const item = await ownPiece(request, request.params.id);
    const { alt } = request.body as Fields;
    const read = readForm(photoForm, request.body);
    const given = read.ok && { itemId: item.id, bytes: read.value.file, alt: read.value.alt };
    const added = given ? await addPhoto(request.deed(), given) : read;
    if (!added.ok) return photosPage(request, reply, item, { alt }, added.problem);
    return reply.seeOther(`/items/${item.id}#photos`, { kind: "good", text: "Photo added." });
  });

  app.post<WithPhoto>("/items/:id/photos/:photoId", mine, async (request, reply) => {
    const item = await ownPiece(request, request.params.id);
    const photoId = wantId(request.params.photoId, "this photo");
    const body = request.body as Fields;
    const edited = await edit(request, { itemId: item.id, photoId }, body);
    if (!edited.ok) {
      const errors = edited.problem.errors.map(({ field, message }) => ({
        field: `photos.${photoId}.${field}`,
        message,
      }));
      return photosPage(request, reply, item, body, { ...edited.problem, errors });
    }
    return reply.seeOther(`/items/${item.id}/photos`, { kind: "good", text: "Saved." });
  });

  app.post<WithPhoto>("/items/:id/photos/:photoId/removal", mine, async (request, reply) => {
    const item = await ownPiece(request, request.params.id);
    const photoId = wantId(request.params.photoId, "this photo");
    const given = { itemId: item.id, photoId };
    orRefuse(await removePhoto(request.deed(), given, app.now()));
    return reply.seeOther(`/items/${item.id}/photos`, { kind: "good", text: "Photo removed." });
  });

  app.get<WithPhoto & { Params: { file: string } }>(
    "/items/:id/photos/:photoId/:file",
    mine,
    picture,
  );
}

/** A photo in one size. Every time it is asked whether this person may still see it. */
async function picture(request: Request, reply: Reply) {
  const { db } = request.server.parts;
  const params = request.params as { id: string; photoId: string; file: string };
  const size = photoSizes.find((one) => `${one}.jpg` === params.file);
  if (!size) throw notFound("this photo");
  const named = {
    itemId: wantId(params.id, "this photo"),
    photoId: wantId(params.photoId, "this photo"),
    size,
  };
  const sha = await pictureSha(db, request.who(), named);
  if (!sha) throw notFound("this photo");
  const tag = `"${sha}"`;
  reply.header("cache-control", "private, no-cache").header("etag", tag);
  if (request.headers["if-none-match"] === tag) return reply.code(304).send();
  const bytes = await pictureBytes(db, request.who(), named);
  if (!bytes) throw notFound("this photo");
  return reply.type("image/jpeg").send(Buffer.from(bytes));
}

/** A piece whose photos this person may change; others who may look see them on its page. */
async function ownPiece(request: Request, id: string): Promise<ShownItem> {
  const actor = request.who();
  const item = await seenItem(request.server.parts.db, actor, wantId(id, "this item"));
  if (item.memberId !== actor.id && !helpsOthers(actor)) throw notFound("this item");
  return item;
}

async function edit(
  request: Request,
  named: { itemId: string; photoId: string },
  body: Fields,
): Promise<Result<unknown>> {
  const typed = (name: string) => textOf(body, `photos.${named.photoId}.${name}`);
  const position = typed("position");
  const read = readForm(photoEditShape, {
    version: Number(/^\d{1,9}$/.exec(textOf(body, "version"))?.[0] ?? 0),
    alt: typed("alt"),
    ...(position === "" ? {} : { position: Number(position) }),
  });
  return read.ok ? editPhoto(request.deed(), { ...named, ...read.value }) : read;
}

async function photosPage(
  request: Request,
  reply: Reply,
  item: ShownItem,
  values: object = {},
  problem?: Problem,
) {
  const photos = await photosOf(request.server.parts.db, request.who(), item.id);
  const here = `/items/${item.id}/photos`;
  const left = mostPhotos - photos.length;
  const data = {
    title: "Photos",
    ...{ description: item.description, shownTag: item.shownTag, itemHref: `/items/${item.id}` },
    photos: photos.map((photo) => ({ ...photo, action: `${here}/${photo.id}` })),
    places: photos.length > 1 ? placesFor(photos.length) : [],
    room: left > 0 ? `There is room for ${left === 1 ? "1 photo" : `${left} photos`}.` : "",
    full: photoWords.full,
    ...{ action: here, problem },
    values: { ...Object.fromEntries(photos.flatMap(valuesOf)), ...values },
  };
  return reply.page("items/photos", data, problem?.status ?? 200);
}

const valuesOf = ({ id, typedAlt, position }: ShownPhoto): [string, string][] => [
  [`photos.${id}.alt`, typedAlt],
  [`photos.${id}.position`, String(position)],
];

const placesFor = (count: number) =>
  Array.from({ length: count }, (_, index) => ({
    value: String(index + 1),
    label: index === 0 ? "First: it stands in lists" : `Number ${index + 1}`,
  }));
