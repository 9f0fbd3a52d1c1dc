import { type Deed, perform } from "../../database/perform.ts";
import { ok, type Result, refuseField } from "../../rules/problem.ts";
import { changedMeanwhile } from "../sale-lock.ts";
import { ownPhoto, type PhotoNamed } from "./own-photo.ts";

export interface EditPhoto extends PhotoNamed {
  /** The version that was on the screen. */
  version: number;
  /** What is said instead of the picture; left out, it stays. */
  alt?: string | undefined;
  /** Its new place among the photos of the piece; left out, it stays. */
  position?: number | undefined;
}

/** Changes what a photo shows in words, or its place among the others, which make room. */
export const editPhoto = (
  deed: Deed,
  given: EditPhoto,
): Promise<Result<{ id: string; version: number }>> =>
  perform(deed, "edit-photo", given, async (tx) => {
    const found = await ownPhoto(tx, deed.actor, given);
    if (!found.ok) return found;
    const { item, photo, count } = found.value;
    if (photo.version !== given.version) return changedMeanwhile();
    const { alt = photo.alt, position = photo.position } = given;
    if (position > count)
      return refuseField(
        "position",
        `Choose a place from 1 to ${count}: so many photos there are.`,
      );
    // One statement, so that no two photos ever stand in one place.
    await tx.$executeRaw`
      UPDATE item_photo SET
        alt = CASE WHEN id = ${photo.id}::uuid THEN ${alt} ELSE alt END,
        version = CASE WHEN id = ${photo.id}::uuid THEN version + 1 ELSE version END,
        position = CASE
          WHEN id = ${photo.id}::uuid THEN ${position}
          WHEN position > ${photo.position} AND position <= ${position} THEN position - 1
          WHEN position < ${photo.position} AND position >= ${position} THEN position + 1
          ELSE position END
      WHERE item_id = ${item.id}::uuid AND removed_at IS NULL`;
    return ok({
      value: { id: photo.id, version: photo.version + 1 },
      subjectId: item.id,
      detail: { tag: item.tag, place: position },
    });
  });
