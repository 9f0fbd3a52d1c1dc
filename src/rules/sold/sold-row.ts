import type { Minor } from "../money.ts";
import type { Pace } from "./wait.ts";

/**
 * One row of what became of a member's pieces: those sold at one moment, those of a tag that did
 * not sell, or a sale elsewhere. Every figure is a sum over such rows, so that a figure and the
 * rows behind it can never differ.
 */
export interface SoldRow {
  /** Names the row for paging. */
  key: string;
  /** "sale:id" for a sale of the guild, "outlet:name" for one elsewhere. */
  where: string;
  whereName: string;
  /** The day the sale began, or the day of the sale elsewhere. */
  day: string;
  itemId: string | null;
  tag: string;
  description: string;
  kind: string;
  kindName: string;
  /** Empty for what nobody has said. */
  fibre: string;
  colour: string;
  band: number;
  pace: Pace | "";
  /** The price asked for one, or for one set. */
  price: Minor;
  /** Pieces of a sale of the guild that this row stands for; a sale elsewhere enters none. */
  entered: number;
  sold: number;
  /** Whether the guild keeps all of it, since the piece was a gift. */
  given: boolean;
  /** What buyers paid for the pieces, tax left out, whoever keeps it. */
  amount: Minor;
  /** What the guild or the outlet kept, and what is left, as far as that is settled. */
  kept: Minor;
  left: Minor;
  /** What no statement holds yet, of `amount`. */
  open: Minor;
  settled: boolean;
  /** When it was sold; null for what did not sell. */
  soldAt: string | null;
  /** Minutes from the opening of the sale, or from coming to the desk later, to the receipt. */
  wait: number | null;
  /** What one took to make. */
  minutes: number | null;
  materials: Minor | null;
}

export const isElsewhere = ({ where }: Pick<SoldRow, "where">): boolean =>
  where.startsWith("outlet:");
