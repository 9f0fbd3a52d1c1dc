import type { Transaction } from "../../database/client.ts";
import type { Actor } from "../../database/perform.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { lockItem } from "../lock-rows.ts";
import { ownItem } from "../own-item.ts";

export interface PhotoNamed {
  itemId: string;
  photoId: string;
}

/** A photo of a piece that this person may change, with nobody else at its piece's photos meanwhile. */
export async function ownPhoto(tx: Transaction, actor: Actor, { itemId, photoId }: PhotoNamed) {
  const own = await ownItem(tx, actor, itemId);
  if (!own.ok) return own;
  await lockItem(tx, own.value.tag);
  const photos = await tx.itemPhoto.findMany({ where: { itemId, removedAt: null } });
  const photo = photos.find(({ id }) => id === photoId);
  return photo ? ok({ item: own.value, photo, count: photos.length }) : noSuchPhoto();
}

const noSuchPhoto = (): Result<never> =>
  refuse("not-found", "This photo is not among those of the piece. Nothing was changed.");
