import * as z from "zod";

export const draftForms = ["one", "many"] as const;
export type DraftForm = (typeof draftForms)[number];

/** More than anybody keeps in mind; what is done with makes room. */
export const mostDrafts = 50;

/** The form for several pieces with every row of its label filled in has far fewer. */
const mostFields = 1_000;
const mostText = 100_000;

const tooMuch = "This is more than a form of an entry holds";

/** PostgreSQL keeps neither NUL nor half of a surrogate pair; everything else stays as typed. */
const asTyped = z
  .string()
  .overwrite((text) => text.replaceAll("\0", "").replace(/\p{Cs}/gu, "\uFFFD"));

/** A form's fields by their names, read by nobody until the form is sent. */
export const draftFieldsShape = z
  .record(z.string().regex(/^[a-z][\w.]{0,79}$/i), z.union([asTyped, z.array(asTyped)]))
  .refine((fields) => Object.keys(fields).length <= mostFields, tooMuch)
  .refine((fields) => JSON.stringify(fields).length <= mostText, tooMuch);

export type DraftFields = z.output<typeof draftFieldsShape>;

const draftVersion = z.int("Load the draft again").min(0).max(2_147_483_646);

export const draftShape = z.strictObject({
  form: z.enum(draftForms),
  saleId: z.uuid(),
  fields: draftFieldsShape,
  /** The version that this goes on from; 0 for one that was never kept here. */
  version: draftVersion.default(0),
  /** When it was typed, by the clock of the device; without it, now. */
  typedAt: z.iso.datetime().optional(),
});

export type DraftInput = z.output<typeof draftShape>;

/** Where a draft is kept, and whether another version of it is kept beside. */
export const keptDraftShape = z.object({
  id: z.uuid(),
  version: z.int(),
  typedAt: z.string(),
  beside: z
    .object({ id: z.uuid(), typedAt: z.string(), newer: z.boolean() })
    .nullable()
    .describe("The version that was kept elsewhere meanwhile, and whether it is the newer one"),
});

export type KeptDraft = z.output<typeof keptDraftShape>;

export const draftRowShape = z.object({
  id: z.uuid(),
  form: z.enum(draftForms),
  saleId: z.uuid(),
  version: z.int(),
  typedAt: z.string(),
});

export const shownDraftShape = draftRowShape.extend({ fields: draftFieldsShape });

export type DraftRow = z.output<typeof draftRowShape>;
export type ShownDraft = z.output<typeof shownDraftShape>;
