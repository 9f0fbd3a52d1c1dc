import * as z from "zod";
import { fibreShape, keptLabelShape } from "./label.ts";
import { line } from "./text.ts";
import { versionNumber } from "./version.ts";

const name = line(60, "Give it a name that you will know again");

export const newUsualShape = z.strictObject({
  itemId: z.uuid("Choose one of your pieces"),
  name,
});

export const usualEditShape = z.strictObject({
  version: versionNumber,
  name,
  price: z
    .int("Give the price as a whole number of smallest coins")
    .min(1, "Type a price above zero"),
});

/** An entry to start from; what differs from piece to piece is left open. */
export const usualShape = z.object({
  id: z.uuid(),
  name: z.string(),
  kind: z.string(),
  kindName: z.string(),
  description: z.string(),
  technique: z.string(),
  fibres: z.array(z.object(fibreShape.shape)),
  size: z.string(),
  label: keptLabelShape,
  price: z.int(),
  piecesInSet: z.int(),
  version: z.int(),
  putAwayAt: z.string().nullable(),
});
