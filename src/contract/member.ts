import * as z from "zod";
import { roles } from "../rules/roles.ts";
import { line } from "./text.ts";
import { versionNumber } from "./version.ts";

/** A spreadsheet takes a cell that begins with one of these for a formula. */
const startsFormula = /^[=+\-@]/;

const phonePattern = /^[+\d(][\d\s()+\-./]*((x|ext\.?)\s*\d{1,6})?$/i;

export const memberName = line(80, "Give a name").refine(
  (name) => /\p{L}/u.test(name) && !startsFormula.test(name),
  "Write the name in letters, such as Ada Weaver",
);

export const memberEmail = z
  .string()
  .trim()
  .toLowerCase()
  .max(200, "Use at most 200 characters")
  .pipe(z.email("Write the e-mail like name@example.org"));

export const memberPhone = z
  .string()
  .trim()
  .max(40, "Use at most 40 characters")
  .refine(
    (phone) => phone === "" || phonePattern.test(phone),
    "Write the phone number in digits, such as 555-0117",
  );

export const memberRoles = z
  .array(z.enum(roles, "Choose from the roles listed"))
  .min(1, "Choose at least one role")
  .max(roles.length, "Choose each role once")
  .refine((chosen) => new Set(chosen).size === chosen.length, "Choose each role once");

export const memberShape = z.strictObject({
  name: memberName,
  /** Without an e-mail a person signs in with the member number. */
  email: memberEmail.nullable().default(null),
  phone: memberPhone.default(""),
  roles: memberRoles.default(["member"]),
});

export type MemberInput = z.output<typeof memberShape>;

export const memberStatus = z.enum(["active", "resting"], "Choose active or resting");

export const memberChange = z.strictObject({
  version: versionNumber,
  name: memberName.optional(),
  email: memberEmail.nullable().optional(),
  phone: memberPhone.optional(),
  roles: memberRoles.optional(),
  status: memberStatus.optional(),
});

export type MemberChange = z.output<typeof memberChange>;

export const memberShown = z.object({
  id: z.uuid(),
  number: z.number().int(),
  name: z.string(),
  email: z.string().nullable(),
  phone: z.string(),
  status: z.enum(["active", "resting"]),
  roles: z.array(z.enum(roles)),
  /** Whether the person has chosen a pass phrase yet. */
  joined: z.boolean(),
  version: z.number().int(),
});

export type MemberShown = z.output<typeof memberShown>;

/** A list of members as text, comma, semicolon or tab between the columns. */
export const memberListShape = z.strictObject({
  text: z
    .string("Choose a file or paste the list")
    .min(1, "Choose a file or paste the list")
    .max(1_000_000, "This list is too long. Split it into several files"),
});

export const listRow = z.object({
  /** The line of the file, as a spreadsheet counts it. */
  line: z.number().int(),
  name: z.string(),
  email: z.string(),
  phone: z.string(),
  roles: z.array(z.string()),
  problems: z.array(z.string()),
});

export type ListRow = z.output<typeof listRow>;

export const listPreview = z.object({
  rows: z.array(listRow),
  good: z.number().int(),
  bad: z.number().int(),
  /** Columns of the file that mean nothing here. */
  ignored: z.array(z.string()),
});

export type ListPreview = z.output<typeof listPreview>;
