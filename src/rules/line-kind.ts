/** What a line of a receipt can be: a tagged piece, one without a tag, the guild's goods, a gift. */
export const lineKinds = ["item", "untagged", "goods", "donation"] as const;

export type LineKind = (typeof lineKinds)[number];
