import type { Role, Section } from "./contents.ts";
import type { FibreCode } from "./fibres.ts";
import type { Group } from "./groups.ts";
import type { Language } from "./language.ts";
import type { Rule } from "./rule.ts";

/** The words of one language as one country's law has them. {gaps} are filled when printed. */
export interface LabelWords {
  names: Record<FibreCode, string>;
  other: { one: string; several: string };
  /** How a share is written: "{number}% {name}". */
  share: string;
  decimalMark: "." | ",";
  /** How a generic name says its bamboo source, or null where that is no part of the name. */
  madeFromBamboo: string | null;
  /** How reclaimed speciality hair is named, or null where the law does not tell it apart. */
  recycled: string | null;
  /** Said after the percentages for what is left out; a role without words is left out silently. */
  leftOut: Partial<Record<Role, string>>;
  ornamentNamed: string;
  inSection: string;
  sections: Record<Section, string>;
  /** A single-fibre pile on a single-fibre back with their shares, where the law shows a form. */
  pileOnBack?: string;
  union: string;
  animalParts: string;
}

/** What may be left out of the percentages, up to which thousandths of a percent of what. */
export interface LeftOutRule extends Rule {
  limit: number;
  of: "rest" | "whole" | "area";
}

export type SmallFibreRule = Rule &
  (
    | { way: "lumped" | "choice" }
    /** Lumping only when a fibre is hard to state: up to `each`, or up to `together` in all. */
    | { way: "named"; each: number; together: number }
  );

export interface FibreRules {
  /** Which groups of goods the law covers. */
  duty: Rule & { covered: readonly Group[] | "all" | "none" };
  /** Groups that are covered as soon as they hold wool or speciality hair. */
  coveredByWool: (Rule & { groups: readonly Group[] }) | null;
  /** From this share on (thousandths of a percent) a fibre is always named. */
  line: number;
  small: SmallFibreRule;
  alwaysNamed: Rule & { fibres: readonly FibreCode[] };
  functional: Rule | null;
  leftOut: Partial<Record<Role, LeftOutRule>>;
  /** What the percentages are of. */
  counted: Rule;
  order: Rule;
  names: Rule;
  brand: Rule;
  single: Rule;
  sections: Rule;
  /** Groups whose face alone may be labelled. */
  outerSurface: (Rule & { groups: readonly Group[] }) | null;
  unknown: Rule;
  union: (Rule & { leastLinen: number }) | null;
  animalParts: Rule | null;
  /** The tolerance of goods that hold wool, where a law of its own sets it; `except` for groups. */
  woolProduct: (Rule & { except: readonly Group[] }) | null;
  /** What a seller may be off by: shown beside the label, never used to shade a figure. */
  tolerance: Rule;
}

export interface IdentityRules extends Rule {
  required: boolean;
  /** Whether a name needs a full postal address beside it. */
  needsAddress: boolean;
  /** A registered number that replaces the name, or null where there is none. */
  number: { prefix: string; digits: RegExp; example: string } | null;
}

/** How a piece was made decides what one step back is: yarn for a weaver, fibre for a spinner. */
export const crafts = ["woven", "knitted", "felted", "spun", "sewn"] as const;
export type Craft = (typeof crafts)[number];

export interface OriginWords {
  /** "Made in USA": only for pieces whose material is all of the country. */
  wholly: string;
  imported: string;
  mixed: string;
  abroad: string;
  /** Names of the country itself, in small letters: typed as another country they mean home. */
  home: readonly string[];
  crafts: Record<Craft, { verb: string; material: string }>;
}

export interface OriginRules extends Rule {
  /** The words by language; a country that asks for no origin has none. */
  print: Partial<Record<Language, OriginWords>>;
}

export interface CareRules extends Rule {
  required: readonly Group[];
  /** Groups for which the text has to stay on the piece for its life. */
  permanent: readonly Group[];
  /** Why care harder than advised needs a test. */
  basis: Rule;
  symbols: SymbolSet;
  symbolNote: Rule;
}

/** Forms of ASTM D5489 or of ISO 3758. */
export type SymbolSet = "astm" | "iso";

export interface TitleRules {
  absent: Rule;
  oneOfSeveral: Rule;
  bamboo: Rule;
  /** Where reclaimed wool must not be called virgin or new. */
  virgin: Rule | null;
  /** What a tag says when it names one fibre and does not carry the whole content. */
  pointer: Partial<Record<Language, string>>;
}

/** One country's law as data. A further country is one more file and one line in the index. */
export interface Pack {
  code: string;
  name: string;
  law: string;
  /** The languages a label may be in; `together` prints them all beside each other. */
  languages: readonly Language[];
  together: boolean;
  languageRule: Rule;
  words: Partial<Record<Language, LabelWords>>;
  fibre: FibreRules;
  identity: IdentityRules;
  origin: OriginRules;
  care: CareRules;
  title: TitleRules;
}
