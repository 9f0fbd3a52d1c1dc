import { emptyDetails, type LabelDetails } from "../labels/details.ts";
import { labelYarnsOf } from "./label-yarns.ts";
import type { WarpSheet } from "./sheet.ts";
import type { RunOutcome } from "./sheet-outcome.ts";

/**
 * What the label of a piece knows from its sheet. Both the sheet's page and the entry of its pieces
 * take it from here, so that what was shown is what the tag prints.
 */
export const runLabel = (sheet: WarpSheet, run: RunOutcome): LabelDetails => ({
  ...emptyDetails,
  yarns: labelYarnsOf(sheet, run),
});
