import type { Color } from "./shapes.ts";

/** The ink and dye of the pages on screen; tags and receipts stay pure black for their printers. */
export const INK: Color = [0.118, 0.114, 0.106];
export const DYE: Color = [0.165, 0.227, 0.451];
/** Hairlines between the rows of a table. */
export const HAIRLINE: Color = [0.75, 0.72, 0.66];
