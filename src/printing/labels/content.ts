import type { CareSymbols, LabelContent } from "../../rules/labels/label-content.ts";
import { inStandardOrder } from "../care-symbols/symbols.ts";
import { tidy } from "../text-fit.ts";

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

/** What a label says as clean text. */
export function plainContent(label: LabelContent): PlainContent {
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

function ordered(symbols: CareSymbols | undefined): CareSymbols | undefined {
  if (symbols === undefined || symbols.codes.length === 0) return undefined;
  return { set: symbols.set, codes: inStandardOrder(symbols.codes) };
}

function memberLine({ memberNumber, memberName }: LabelContent): string {
  if (memberName !== undefined) return tidy(`${memberNumber ?? ""} ${memberName}`);
  return memberNumber === undefined ? "" : tidy(`Member ${memberNumber}`);
}
