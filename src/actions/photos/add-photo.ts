import { createHash } from "node:crypto";
import { v7 } from "uuid";
import type { Transaction } from "../../database/client.ts";
import { type Deed, perform } from "../../database/perform.ts";
import { mostPhotos, photoWords } from "../../rules/photo.ts";
import { ok, type Result, refuse } from "../../rules/problem.ts";
import { lockItem } from "../lock-rows.ts";
import { ownItem } from "../own-item.ts";
import { type Developed, develop } from "./develop.ts";

export interface AddPhoto {
  itemId: string;
  /** The file as it was sent. */
  bytes: Uint8Array;
  alt: string;
}

export interface Added {
  id: string;
  position: number;
}

const sha256 = (bytes: Uint8Array): string => createHash("sha256").update(bytes).digest("hex");

/** Adds a photo to a piece. The same file sent again finds the photo that it made. */
export async function addPhoto(deed: Deed, given: AddPhoto): Promise<Result<Added>> {
  const { itemId, bytes, alt } = given;
  // Before the picture is opened: for a stranger's piece nobody works.
  const mine = await ownItem(deed.db, deed.actor, itemId);
  if (!mine.ok) return mine;
  const developed = await develop(bytes);
  if (!developed.ok) return developed;
  const source = sha256(bytes);
  return perform(deed, "add-photo", { itemId, alt, source }, async (tx) => {
    const own = await ownItem(tx, deed.actor, itemId);
    if (!own.ok) return own;
    // Two uploads at once count one after the other.
    await lockItem(tx, own.value.tag);
    const there = await tx.itemPhoto.findMany({ where: { itemId, removedAt: null } });
    const done = ({ id, position }: Added) =>
      ok({
        value: { id, position },
        subjectId: itemId,
        detail: { tag: own.value.tag, place: position },
      });
    const same = there.find(({ sourceSha256 }) => sourceSha256 === source);
    if (same) return done(same);
    if (there.length >= mostPhotos) return full();
    const row = { id: v7(), itemId, alt, position: there.length + 1, sourceSha256: source };
    await tx.itemPhoto.create({ data: { ...row, addedById: deed.actor.id } });
    await writeFiles(tx, row.id, developed.value);
    return done(row);
  });
}

const writeFiles = (tx: Transaction, photoId: string, files: readonly Developed[]) =>
  tx.itemPhotoFile.createMany({
    data: files.map((file) => ({ photoId, sha256: sha256(file.bytes), ...file })),
  });

const full = () =>
  refuse("limit-reached", `${photoWords.full} Nothing was added.`, [
    { field: "file", message: photoWords.full },
  ]);
