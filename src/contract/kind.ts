import * as z from "zod";
import { groups } from "../rules/labels/groups.ts";
import { line } from "./text.ts";

export const kindShape = z.strictObject({
  name: line(40, "Name the kind, such as Table runner"),
  /** What the label rules take it for; empty for what its name says. */
  labelGroup: z.union([z.literal(""), z.enum(groups)], "Choose from the list").default(""),
});

export const kindChange = z.strictObject({
  name: kindShape.shape.name.optional(),
  /** A retired kind stays on old items and cannot be chosen for new ones. */
  active: z.boolean().optional(),
  labelGroup: kindShape.shape.labelGroup.unwrap().optional(),
});

export const kindShown = z.object({
  id: z.uuid(),
  code: z.string(),
  name: z.string(),
  position: z.number().int(),
  active: z.boolean(),
  labelGroup: z.string(),
});

export type KindShown = z.output<typeof kindShown>;
