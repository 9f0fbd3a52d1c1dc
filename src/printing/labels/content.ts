import { inStandardOrder, type SymbolSet } from "../care-symbols/symbols.ts";
import { tidy } from "../text-fit.ts";

/** Care symbols of one standard; they print in that standard's order, whatever order they come in. */
export interface CareSymbols {
  set: SymbolSet;
  codes: readonly string[];
}

/** What one label says. All words and figures are ready to print. */
export interface LabelContent {
  /** 8 or 10 digits: what bars and QR code carry. */
  tag: string;
  /** The same number as people read it, such as "123-456-76". */
  shownTag: string;
  title: string;
  /** Technique and colours: nice to have, the first to go where there is no room. */
  details?: string;
  size?: string;
  fibreLines: readonly string[];
  careLines: readonly string[];
  cautionLines: readonly string[];
  originLine?: string;
  identityLine?: string;
  price?: string;
  memberNumber?: string;
  /** Only for guilds that want the maker's name on the tag. */
  memberName?: string;
  quantityNote?: string;
  setNote?: string;
  symbols?: CareSymbols;
  code: "bars" | "qr" | "both";
}

/** The plainer shape of a sale's tag, with bars and without the facts of a full label. */
export interface TagLabel {
  tag: string;
  shownTag: string;
  description: string;
  size: string;
  fibreText: string;
  careText: string;
  price: string;
  memberNumber: string;
  quantityNote?: string;
  setNote?: string;
  memberName?: string;
}

/** Text ready to measure: one line of clean characters, empty when there is none. */
export interface PlainContent {
  tag: string;
  shownTag: string;
  title: string;
  details: string;
  size: string;
  fibre: string[];
  care: string[];
  caution: string[];
  origin: string;
  identity: string;
  price: string;
  member: string;
  notes: string[];
  symbols: CareSymbols | undefined;
  code: "bars" | "qr" | "both";
}

const clean = (texts: readonly (string | undefined)[]): string[] =>
  texts.map((text) => tidy(text ?? "")).filter((text) => text !== "");

/** Either shape as clean text. */
export function plainContent(label: LabelContent | TagLabel): PlainContent {
  if ("description" in label) return plainContent(fromTag(label));
  return {
    tag: label.tag,
    shownTag: tidy(label.shownTag),
    title: tidy(label.title),
    details: tidy(label.details ?? ""),
    size: tidy(label.size ?? ""),
    fibre: clean(label.fibreLines),
    care: clean(label.careLines),
    caution: clean(label.cautionLines),
    origin: tidy(label.originLine ?? ""),
    identity: tidy(label.identityLine ?? ""),
    price: tidy(label.price ?? ""),
    member: memberLine(label),
    notes: clean([label.quantityNote, label.setNote]),
    symbols: ordered(label.symbols),
    code: label.code,
  };
}

const fromTag = ({ description, fibreText, careText, ...rest }: TagLabel): LabelContent => ({
  ...rest,
  title: description,
  fibreLines: [fibreText],
  careLines: [careText],
  cautionLines: [],
  code: "bars",
});

function ordered(symbols: CareSymbols | undefined): CareSymbols | undefined {
  if (symbols === undefined || symbols.codes.length === 0) return undefined;
  return { set: symbols.set, codes: inStandardOrder(symbols.codes) };
}

function memberLine({ memberNumber, memberName }: LabelContent): string {
  if (memberName !== undefined) return tidy(`${memberNumber ?? ""} ${memberName}`);
  return memberNumber === undefined ? "" : tidy(`Member ${memberNumber}`);
}
