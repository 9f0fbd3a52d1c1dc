/** The columns that a list of pieces may have, in the order of the starter file. */
export const listColumns = [
  "kind",
  "description",
  "colours",
  "size",
  "technique",
  "fibres",
  "price",
  "quantity",
  "piecesInSet",
  "donated",
  "markdown",
  "minutes",
  "materials",
] as const;

export type ListColumn = (typeof listColumns)[number];

/** Without these no row can be entered, so that a list lacking one is told so only once. */
export const neededColumns = ["kind", "description", "price"] as const;

/** The most rows of one list: more than a member brings to a sale, and still one page to look at. */
export const mostListRows = 300;

interface ColumnWords {
  /** The heading of the starter file. */
  heading: string;
  takes: string;
  /** Of one invented piece. */
  example: string;
  /** Other headings that mean the same, letters only. */
  also: readonly string[];
}

export const columnWords: Readonly<Record<ListColumn, ColumnWords>> = {
  kind: {
    heading: "Kind",
    takes: "One of the guild's kinds, such as Scarf or Towel. Needed.",
    example: "Towel",
    also: ["type", "kindofpiece", "whatisit", "category"],
  },
  description: {
    heading: "Description",
    takes: "What a buyer reads on the tag, at most 60 letters. Needed.",
    example: "Huck lace towel",
    also: ["shortdescription", "title", "piece", "item", "name"],
  },
  colours: {
    heading: "Colours",
    takes: "Words, at most 60 letters.",
    example: "Indigo and white",
    also: ["colour", "color", "colors"],
  },
  size: {
    heading: "Size",
    takes: "As you would write it on the tag.",
    example: "18 x 28 in",
    also: ["dimensions", "measurements", "measures"],
  },
  technique: {
    heading: "Technique",
    takes: "Words, at most 60 letters.",
    example: "Huck lace",
    also: ["weave", "structure", "weavestructure"],
  },
  fibres: {
    heading: "Fibres",
    takes: "Each fibre with its percent: 60 cotton 40 linen. One fibre alone needs no percent.",
    example: "60 cotton 40 linen",
    also: ["fibre", "fiber", "fibers", "fibrecontent", "fibercontent", "content", "madeof"],
  },
  price: {
    heading: "Price",
    takes: "The price of one, or of one whole set. Needed.",
    example: "36.00",
    also: ["priceeach", "priceofone", "priceofeach"],
  },
  quantity: {
    heading: "How many",
    takes: "Pieces alike under one tag number. Empty means 1.",
    example: "1",
    also: ["howmanyalike", "quantity", "count", "qty"],
  },
  piecesInSet: {
    heading: "Pieces in a set",
    takes: "Only for a set that is sold as one, such as 4. Empty means 1.",
    example: "1",
    also: ["piecesintheset", "piecesinset", "set", "setof"],
  },
  donated: {
    heading: "Donated",
    takes: "Yes when the guild keeps all the money. Empty means no.",
    example: "no",
    also: ["gift", "donation", "theguildkeepsallthemoney"],
  },
  markdown: {
    heading: "Markdown",
    takes: "Yes when it may be marked down on the last day. Empty means no.",
    example: "yes",
    also: ["markeddown", "markdownallowed", "maybemarkeddown"],
  },
  minutes: {
    heading: "Hours for one",
    takes: "Your own note, such as 2:30 or 2.5. Nobody else sees it.",
    example: "2:30",
    also: ["hours", "hoursforeach", "hoursofwork"],
  },
  materials: {
    heading: "Materials for one",
    takes: "Your own note of what the yarn cost. Nobody else sees it.",
    example: "8.40",
    also: ["materials", "materialcost", "materialsforeach", "costofmaterials"],
  },
};

/** The column that the file of rows to mend adds; brought in again, it is passed over in silence. */
export const mendHeading = "What to mend";

const lettersOf = (text: string): string => text.toLowerCase().replace(/[^\p{L}]/gu, "");

const columnOf = new Map(
  listColumns.flatMap((column) =>
    [lettersOf(columnWords[column].heading), ...columnWords[column].also].map(
      (word) => [word, column] as const,
    ),
  ),
);

/** The column that a heading means, whatever its case, spaces and signs. */
export const readHeading = (text: string): ListColumn | undefined => columnOf.get(lettersOf(text));

export const isMendHeading = (text: string): boolean => lettersOf(text) === lettersOf(mendHeading);
