import * as z from "zod";
import { longestAlt, mostPhotos } from "../rules/photo.ts";
import { optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

export const photoAlt = optionalLine(longestAlt);

export const photoEditShape = z.strictObject({
  version: versionNumber,
  alt: photoAlt.optional(),
  position: z
    .int("Choose one of the places")
    .min(1, "Choose one of the places")
    .max(mostPhotos, "Choose one of the places")
    .optional(),
});

const photoFileShape = z.object({ href: z.string(), width: z.int(), height: z.int() });

export const shownPhotoShape = z.object({
  id: z.uuid(),
  position: z.int(),
  alt: z.string(),
  typedAlt: z.string(),
  version: z.int(),
  large: photoFileShape,
  small: photoFileShape,
});
