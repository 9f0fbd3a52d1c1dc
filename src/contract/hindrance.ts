import * as z from "zod";
import { hindranceKinds } from "../rules/hindrances/hindrance.ts";
import { line } from "./text.ts";

export const hindranceShape = z.object({
  kind: z.enum(hindranceKinds),
  must: z.boolean(),
  count: z.int(),
  words: z.string(),
  action: z.object({ label: z.string(), href: z.string() }),
});

export const lookIntoShape = z.strictObject({
  reason: line(300, "Say what came of it, in a few words"),
});

export const differenceShown = z.object({
  sessionId: z.uuid(),
  tillNumber: z.int(),
  counted: z.int(),
  difference: z.int(),
  by: z.string(),
  note: z.string(),
  at: z.string(),
  lookedInto: z.object({ reason: z.string(), by: z.string(), at: z.string() }).nullable(),
});
