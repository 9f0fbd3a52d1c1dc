import type { FontName } from "../fonts.ts";
import type { PlainContent } from "./content.ts";

/** A part of a label, named so that a page can say what has no room. */
export type Part =
  | "title"
  | "details"
  | "size"
  | "notes"
  | "symbols"
  | "fibre"
  | "care"
  | "caution"
  | "origin"
  | "identity"
  | "price"
  | "number";

/** What people read for each part. */
export const partWords: Record<Part, string> = {
  title: "title",
  details: "technique and colours",
  size: "size",
  notes: "quantity or set",
  symbols: "care symbols",
  fibre: "fibre content",
  care: "care words",
  caution: "caution",
  origin: "origin",
  identity: "maker or business",
  price: "price",
  number: "tag number",
};

/** One text of a label's body; `scale` sets its size against the body's size. */
export interface Passage {
  part: Part;
  face: FontName;
  text: string;
  scale: number;
  /** Space above it, against the body's size. */
  gap: number;
  /** What does not fit in so many lines is shortened; only ever set for the title. */
  mostLines?: number;
}

/** A row of care symbols stands among the passages with a height of its own. */
export interface SymbolRow {
  part: "symbols";
  gap: number;
}

export type Block = Passage | SymbolRow;

/**
 * What is given up when a label is too full, one step after another: technique and colours, size,
 * symbols (the words are the legal text), then all but two lines and all but one of the title.
 */
export interface Relief {
  dropped: Part[];
  titleLines: number;
}

export function reliefs(content: PlainContent): Relief[] {
  const steps: Relief[] = [{ dropped: [], titleLines: Number.POSITIVE_INFINITY }];
  const dropped: Part[] = [];
  const drop = (part: Part, present: boolean): void => {
    if (!present) return;
    dropped.push(part);
    steps.push({ dropped: [...dropped], titleLines: Number.POSITIVE_INFINITY });
  };
  drop("details", content.details !== "");
  drop("size", content.size !== "");
  drop("symbols", content.symbols !== undefined);
  steps.push({ dropped, titleLines: 2 }, { dropped, titleLines: 1 });
  return steps;
}

const TITLE_SCALE = 1.15;

/**
 * The body of a hang-tag or sticker, in printing order. `airy` is the space between groups against
 * the letters; `joined` saves a line by setting origin and maker as one.
 */
export function tagBlocks(
  content: PlainContent,
  { dropped, titleLines }: Relief,
  { airy, joined }: { airy: number; joined: boolean },
): Block[] {
  const blocks: Block[] = [];
  const add = (part: Part, text: string, more: Partial<Passage> = {}): void => {
    if (text === "") return;
    blocks.push({ part, face: "regular", text, scale: 1, gap: 0, ...more });
  };
  add("title", content.title, { face: "bold", scale: TITLE_SCALE, mostLines: titleLines });
  const side = (["size", "details"] as const).filter((part) => !dropped.includes(part));
  const optional = side.map((part) => content[part]).filter((text) => text !== "");
  if (content.notes.length > 0) {
    const together = [...optional.slice(0, 1), ...content.notes, ...optional.slice(1)];
    add("notes", together.join(" · "));
  } else {
    add("size", optional.join(" · "));
  }
  content.fibre.forEach((text, index) => {
    add("fibre", text, { gap: index === 0 ? airy : 0 });
  });
  if (content.symbols !== undefined && !dropped.includes("symbols")) {
    blocks.push({ part: "symbols", gap: airy });
  }
  add("care", content.care.join(" "), { gap: airy });
  add("caution", content.caution.join(" "), { face: "bold", gap: airy });
  if (joined && content.origin !== "") {
    add("origin", [content.origin, content.identity].filter((text) => text !== "").join(" · "));
    return blocks;
  }
  add("origin", content.origin, { gap: airy });
  add("identity", content.identity, { gap: content.origin === "" ? airy : 0 });
  return blocks;
}

/** The body of a permanent care strip: care first, each instruction on a line of its own. */
export function stripBlocks(content: PlainContent, { dropped }: Relief): Block[] {
  const blocks: Block[] = [];
  const AIR = 0.6;
  const add = (part: Part, texts: readonly string[], face: FontName = "regular"): void => {
    texts
      .filter((text) => text !== "")
      .forEach((text, index) => {
        blocks.push({ part, face, text, scale: 1, gap: index === 0 ? AIR : 0 });
      });
  };
  add("fibre", content.fibre, "bold");
  if (content.symbols !== undefined && !dropped.includes("symbols")) {
    blocks.push({ part: "symbols", gap: AIR });
  }
  add("care", content.care);
  add("caution", content.caution, "bold");
  add("origin", [content.origin]);
  add("identity", [content.identity]);
  return blocks;
}
