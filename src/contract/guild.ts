import * as z from "zod";
import { isCurrency } from "../rules/currency.ts";
import { labelSettingsShape } from "./label-settings.ts";
import { memberEmail, memberName } from "./member.ts";
import { line, optionalLines } from "./text.ts";
import { versionNumber } from "./version.ts";

const isTimeZone = (name: string): boolean => {
  try {
    return Boolean(new Intl.DateTimeFormat("en", { timeZone: name }));
  } catch {
    return false;
  }
};

const isLocale = (tag: string): boolean => {
  try {
    return Intl.getCanonicalLocales(tag).length === 1;
  } catch {
    return false;
  }
};

export const guildShape = z.strictObject({
  name: line(80, "Give the guild's name"),
  currency: z
    .string()
    .trim()
    .toUpperCase()
    .refine(isCurrency, "Choose a currency from ISO 4217, such as USD, CAD or EUR"),
  locale: z.string().trim().refine(isLocale, "Use a language tag such as en-US or fr-CA"),
  timeZone: z.string().trim().refine(isTimeZone, "Use a time zone name such as America/Chicago"),
  tagLength: z.union([z.literal(8), z.literal(10)], "Choose 8 or 10 digits"),
  address: optionalLines(300).default(""),
  paper: z.enum(["letter", "a4"], "Choose Letter or A4").default("letter"),
  showMemberName: z.boolean().default(false),
});

/** All that can be read or changed once the guild is there. */
export const guildSettings = z.strictObject({
  ...guildShape.shape,
  ...labelSettingsShape.shape,
  /** A settlement that owes members more than this needs a second person; null for never. */
  secondPersonAbove: z
    .int("Give the amount in whole smallest coins")
    .min(0, "Give an amount of zero or more")
    .max(999_999_999, "This amount is too large")
    .nullable(),
});

/** The settings the chair may change later; the version says which state was on the page. */
export const guildChange = z
  .strictObject({
    ...guildSettings.shape,
    address: guildShape.shape.address.unwrap(),
    paper: guildShape.shape.paper.unwrap(),
    showMemberName: guildShape.shape.showMemberName.unwrap(),
  })
  .partial()
  .extend({ version: versionNumber });

export type GuildChange = z.output<typeof guildChange>;

export type GuildInput = z.infer<typeof guildShape>;

export const personShape = z.strictObject({
  name: memberName,
  email: memberEmail,
  /** Measured by the rules, which also say what else is wrong with it. */
  passphrase: z.string("Choose a pass phrase").max(1024, "Use at most 512 characters"),
});
