import * as z from "zod";
import { outcomes } from "../rules/labels/cautions/caution.ts";
import { topics } from "../rules/labels/item-label.ts";
import { languages } from "../rules/labels/language.ts";
import { packs } from "../rules/labels/packs/index.ts";
import { answersShape, clothShape, fibresShape, labelShape } from "./label.ts";
import { optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

const ruleShape = z.object({
  words: z.string(),
  source: z.string(),
  /** The rule was written down from memory and waits for a look at the official text. */
  fromMemory: z.boolean().optional(),
});
const told = ruleShape.extend({ about: z.enum(topics) });
const lines = z.array(z.object({ text: z.string(), languages: z.array(z.enum(languages)) }));
const duty = ruleShape.extend({ required: z.boolean() });

/** A label with the reasons and sources behind every part of it. */
export const shownLabelShape = z.object({
  fibre: z.object({ lines, duty }),
  care: z.object({
    lines,
    symbols: z.object({ set: z.enum(["astm", "iso"]), codes: z.array(z.string()) }),
    duty: duty.extend({ permanent: z.boolean() }),
    recorded: z.object({
      basis: z.enum(["our-table", "tested"]),
      choices: z.array(
        z.object({
          step: z.string(),
          advised: z.string(),
          chosen: z.string(),
          stronger: z.boolean(),
        }),
      ),
    }),
  }),
  caution: z.object({
    outcome: z.enum(outcomes),
    lines,
    desk: z.array(z.string()),
    unanswered: z.array(z.string()),
  }),
  origin: lines,
  identity: z.array(z.string()),
  reasons: z.array(told),
  warnings: z.array(told),
  refusals: z.array(told.extend({ field: z.string() })),
});

const codes = packs.map(({ code }) => code) as [string, ...string[]];

/** What a label is worked out from when nothing is to be kept; the rest is the guild's setting. */
export const previewShape = z.strictObject({
  kind: optionalLine(40).default("other"),
  title: optionalLine(60).default(""),
  fibres: fibresShape.default([]),
  label: labelShape.partial().default({}),
  /** Left out, the guild's own. */
  jurisdiction: z.enum(codes, "Choose a jurisdiction from the list").optional(),
  languages: z.array(z.enum(languages, "Choose from the languages listed")).optional(),
  maker: z
    .strictObject({
      businessName: optionalLine(60).optional(),
      address: optionalLine(120).optional(),
      registeredNumber: optionalLine(20).optional(),
    })
    .optional(),
  /** A fibre text somebody wrote: it is compared with the lawful one. */
  typed: optionalLine(300).optional(),
});

export type PreviewInput = z.output<typeof previewShape>;

export const questionsShape = z.strictObject({
  version: versionNumber,
  answers: answersShape,
  cloth: clothShape.nullable().default(null),
});
