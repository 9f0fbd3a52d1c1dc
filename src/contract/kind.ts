import { z } from "zod";
import { line } from "./text.ts";

export const kindShape = z.strictObject({
  name: line(40, "Name the kind, such as Table runner"),
});

export const kindChange = z.strictObject({
  name: kindShape.shape.name.optional(),
  /** A retired kind stays on old items and cannot be chosen for new ones. */
  active: z.boolean().optional(),
});

export const kindShown = z.object({
  id: z.uuid(),
  code: z.string(),
  name: z.string(),
  position: z.number().int(),
  active: z.boolean(),
});

export type KindShown = z.output<typeof kindShown>;
