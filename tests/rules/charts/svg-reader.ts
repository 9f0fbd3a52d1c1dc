import { createRequire } from "node:module";
import PDFDocument from "pdfkit";

export interface Drawn {
  name: string;
  attributes: Record<string, string>;
  text: string;
  children: Drawn[];
}

const signs: Record<string, string> = {
  "&amp;": "&",
  "&lt;": "<",
  "&gt;": ">",
  "&quot;": '"',
  "&#39;": "'",
};
const plain = (text: string): string =>
  text.replace(/&[^;]*;|&/g, (sign) => {
    const meant = signs[sign];
    if (meant === undefined) throw new Error(`Unknown sign: ${sign}`);
    return meant;
  });

/** Reads SVG text into elements, and throws where tags do not close or a sign is not escaped. */
export function readSvg(text: string): Drawn {
  let rest = text;
  const take = (pattern: RegExp): RegExpExecArray | null => {
    const found = pattern.exec(rest);
    if (found) rest = rest.slice(found[0].length);
    return found;
  };
  const node = (): Drawn => {
    const open = take(/^<([a-z]+)((?: [A-Za-z0-9-]+="[^"<]*")*)(\/?)>/);
    if (!open) throw new Error(`No element at: ${rest.slice(0, 40)}`);
    const drawn: Drawn = { name: open[1] as string, attributes: {}, text: "", children: [] };
    for (const [, key, value] of (open[2] ?? "").matchAll(/ ([A-Za-z0-9-]+)="([^"]*)"/g))
      drawn.attributes[key as string] = plain(value as string);
    if (open[3] === "/") return drawn;
    drawn.text = plain(take(/^[^<>]*/)?.[0] ?? "");
    while (!rest.startsWith("</")) drawn.children.push(node());
    if (!take(new RegExp(`^</${drawn.name}>`))) throw new Error(`${drawn.name} is not closed`);
    return drawn;
  };
  const root = node();
  if (rest !== "") throw new Error(`Something after the end: ${rest}`);
  return root;
}

/** Every element inside, in the order of painting. */
export const allOf = (drawn: Drawn, name: string): Drawn[] =>
  drawn.children.flatMap((child) => [
    ...(child.name === name ? [child] : []),
    ...allOf(child, name),
  ]);

export const numberOf = (drawn: Drawn, key: string): number => Number(drawn.attributes[key]);

export interface Box {
  left: number;
  right: number;
  top: number;
  bottom: number;
}

const paper = new PDFDocument({ autoFirstPage: false });
paper.font(createRequire(import.meta.url).resolve("dejavu-fonts-ttf/ttf/DejaVuSans.ttf"));

/** What a text takes in DejaVu Sans, in pixels at 16 pixels. */
export const measured = (text: string): number => paper.fontSize(16).widthOfString(text);

/** The room that a text takes; letters reach 14 pixels up and 4 down. */
export function textBox(drawn: Drawn): Box {
  const x = numberOf(drawn, "x");
  const y = numberOf(drawn, "y");
  const width = measured(drawn.text);
  const left = drawn.attributes["text-anchor"] === "end" ? x - width : x;
  return { left, right: left + width, top: y - 14, bottom: y + 4 };
}

export const rectBox = (drawn: Drawn): Box => {
  const [left, top] = [numberOf(drawn, "x"), numberOf(drawn, "y")];
  return {
    left,
    right: left + numberOf(drawn, "width"),
    top,
    bottom: top + numberOf(drawn, "height"),
  };
};

export const overlap = (one: Box, other: Box): boolean =>
  one.left < other.right &&
  other.left < one.right &&
  one.top < other.bottom &&
  other.top < one.bottom;
