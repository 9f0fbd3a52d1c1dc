import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result } from "../../rules/problem.ts";
import { ownPhoto, type PhotoNamed } from "./own-photo.ts";

/** Takes a photo away for good: its row says that it was there, and its pictures are gone. */
export const removePhoto = (
  deed: Deed,
  given: PhotoNamed,
  now: Date,
): Promise<Result<{ id: string }>> =>
  perform(deed, "remove-photo", given, async (tx) => {
    const found = await ownPhoto(tx, deed.actor, given);
    if (!found.ok) return found;
    const { item, photo } = found.value;
    await tx.itemPhotoFile.deleteMany({ where: { photoId: photo.id } });
    await tx.itemPhoto.update({ where: { id: photo.id }, data: { removedAt: now } });
    await tx.$executeRaw`
      UPDATE item_photo SET position = position - 1
      WHERE item_id = ${item.id}::uuid AND removed_at IS NULL AND position > ${photo.position}`;
    return ok({
      value: { id: photo.id },
      subjectId: item.id,
      detail: { tag: item.tag, place: photo.position },
    });
  });
