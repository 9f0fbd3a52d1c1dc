import * as z from "zod";
import { identityChoices } from "../rules/labels/label-setting.ts";
import { languages } from "../rules/labels/language.ts";
import { findPack, packs } from "../rules/labels/packs/index.ts";
import { optionalLine } from "./text.ts";

const codes = packs.map(({ code }) => code) as [string, ...string[]];

/** What the guild decides about its labels. */
export const labelSettingsShape = z.strictObject({
  jurisdiction: z.enum(codes, "Choose whose label rules apply"),
  /** Empty for what the law and the guild's own language call for. */
  labelLanguages: z
    .array(z.enum(languages, "Choose from the languages listed"))
    .max(languages.length, "Choose each language once"),
  labelIdentity: z.enum(identityChoices, "Choose whose name stands on labels"),
  registeredNumber: optionalLine(20),
  careSymbols: z.boolean("Say true or false"),
});

/** What a member puts on the labels of their own pieces. */
export const memberLabelsShape = z.strictObject({
  businessName: optionalLine(60),
  postalLine: optionalLine(120),
  registeredNumber: optionalLine(20),
});

export type MemberLabelsInput = z.output<typeof memberLabelsShape>;

/** The registered number as the country writes it, or what is wrong with it. */
export const numberFault = (typed: string, jurisdiction: string): string | null => {
  const rule = findPack(jurisdiction)?.identity.number;
  if (typed === "") return null;
  if (!rule) return "There is no registered number for labels here. Print a name instead.";
  const bare = typed.replace(new RegExp(`^${rule.prefix}[\\s:#]*`, "i"), "");
  return rule.digits.test(bare) ? null : `A registered number looks like ${rule.example}.`;
};
