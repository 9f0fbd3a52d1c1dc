import type { SymbolSet } from "./pack.ts";

/** Care symbols of one standard; they print in that standard's order, whatever order they come in. */
export interface CareSymbols {
  set: SymbolSet;
  codes: string[];
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
