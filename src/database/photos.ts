import type { PhotoSize } from "../rules/photo.ts";
import { hasAny } from "../rules/roles.ts";
import type { Transaction } from "./client.ts";
import type { Actor } from "./perform.ts";

export interface PhotoFile {
  href: string;
  width: number;
  height: number;
}

/** A photo as pages and API show it; the pictures themselves are asked for by their addresses. */
export interface ShownPhoto {
  id: string;
  position: number;
  /** What is said instead of the picture: the item's description unless its member typed more. */
  alt: string;
  typedAlt: string;
  version: number;
  large: PhotoFile;
  small: PhotoFile;
}

/** Members see the photos of their own pieces; those who handle everybody's see all. */
const seen = (actor: Actor) =>
  hasAny(actor.roles, ["desk", "cashier", "treasurer", "chair"]) ? {} : { memberId: actor.id };

const shownParts = {
  item: { select: { description: true } },
  files: { select: { size: true, width: true, height: true } },
} as const;

/** The photos of an item in their order; none for an item that this person may not see. */
export async function photosOf(
  db: Transaction,
  actor: Actor,
  itemId: string,
): Promise<ShownPhoto[]> {
  const rows = await db.itemPhoto.findMany({
    where: { itemId, removedAt: null, item: seen(actor) },
    include: shownParts,
    orderBy: { position: "asc" },
  });
  return rows.map(({ files, item, ...photo }) => {
    const file = (wanted: PhotoSize): PhotoFile => {
      const found = files.find(({ size }) => size === wanted);
      if (!found) throw new Error(`The photo ${photo.id} has no ${wanted} picture.`);
      return { href: hrefOf(itemId, photo.id, wanted), width: found.width, height: found.height };
    };
    return {
      ...{ id: photo.id, position: photo.position, version: photo.version },
      ...{ alt: photo.alt || item.description, typedAlt: photo.alt },
      ...{ large: file("large"), small: file("small") },
    };
  });
}

const hrefOf = (itemId: string, photoId: string, size: PhotoSize): string =>
  `/items/${itemId}/photos/${photoId}/${size}.jpg`;

/** The small picture of each item's first photo, for a list of items that this person may see. */
export async function firstPhotos(
  db: Transaction,
  itemIds: readonly string[],
): Promise<Map<string, PhotoFile>> {
  const rows = await db.itemPhoto.findMany({
    where: { itemId: { in: [...itemIds] }, removedAt: null, position: 1 },
    select: {
      id: true,
      itemId: true,
      files: { where: { size: "small" }, select: { width: true, height: true } },
    },
  });
  return new Map(
    rows.flatMap(({ id, itemId, files: [file] }) =>
      file ? [[itemId, { href: hrefOf(itemId, id, "small"), ...file }]] : [],
    ),
  );
}

export interface PictureNamed {
  itemId: string;
  photoId: string;
  size: PhotoSize;
}

const pictureWhere = (actor: Actor, { itemId, photoId, size }: PictureNamed) => ({
  ...{ photoId, size },
  photo: { itemId, removedAt: null, item: seen(actor) },
});

/** The fingerprint of a picture, by which a browser may go on using the copy that it has. */
export async function pictureSha(
  db: Transaction,
  actor: Actor,
  named: PictureNamed,
): Promise<string | undefined> {
  const where = pictureWhere(actor, named);
  return (await db.itemPhotoFile.findFirst({ where, select: { sha256: true } }))?.sha256;
}

export async function pictureBytes(
  db: Transaction,
  actor: Actor,
  named: PictureNamed,
): Promise<Uint8Array | undefined> {
  const where = pictureWhere(actor, named);
  return (await db.itemPhotoFile.findFirst({ where, select: { bytes: true } }))?.bytes;
}
