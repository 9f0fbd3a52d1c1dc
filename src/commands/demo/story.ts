import type { Seller, SignIn } from "./guild.ts";

/** What the demo remembers of its making. */
export interface Story {
  lastSaleId: string;
  thisSaleId: string;
  /** Where the PDF files lie. */
  papers: string[];
  signIns: SignIn[];
  sellers: Seller[];
}

export type Tell = (line: string) => void;
