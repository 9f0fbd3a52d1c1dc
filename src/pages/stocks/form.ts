import { type LabelStockInput, labelStockShape } from "../../contract/label-stock.ts";
import { checkedStock } from "../../printing/checked-stock.ts";
import type { Stock } from "../../printing/stock.ts";
import type { Result } from "../../rules/problem.ts";
import { type Fields, textOf, thousandthsOf, thousandthsText, ticked } from "../items/fields.ts";
import { readForm } from "../read-form.ts";

/** Reads a stock; its lengths are in the unit that was chosen and are kept in millimetres. */
export function readStock(body: Fields): Result<LabelStockInput> {
  const inches = textOf(body, "unit") === "in";
  const length = (name: string): number | undefined => {
    const text = textOf(body, name);
    if (!/\d/.test(text)) return text === "" ? undefined : Number.NaN;
    const typed = thousandthsOf(text);
    return inches ? (typed * 254) / 10_000 : typed / 1_000;
  };
  const number = (name: string) =>
    /^\d{1,4}$/.test(textOf(body, name)) ? Number(textOf(body, name)) : undefined;
  const roll = textOf(body, "media.kind") === "roll";
  const read = readForm(labelStockShape, {
    name: textOf(body, "name"),
    words: textOf(body, "words"),
    purpose: textOf(body, "purpose"),
    media: roll
      ? {
          kind: "roll",
          width: length("media.width"),
          printable: length("media.printable"),
          length: length("media.length") ?? "continuous",
        }
      : {
          kind: "sheet",
          paper: { width: length("media.paper.width"), height: length("media.paper.height") },
          margin: { left: length("media.margin.left"), top: length("media.margin.top") },
          columns: number("media.columns"),
          rows: number("media.rows"),
          pitch: { across: length("media.pitch.across"), down: length("media.pitch.down") },
        },
    label: { width: length("label.width"), height: length("label.height") },
    corner: length("corner") ?? 0,
    ...(textOf(body, "hole.diameter") === ""
      ? {}
      : { hole: { x: length("hole.x"), y: length("hole.y"), diameter: length("hole.diameter") } }),
    ...(ticked(body, "guides") ? { guides: true } : {}),
  });
  return read.ok ? checkedStock(read.value) : read;
}

/** A length as people type it: at most three decimals of a millimetre. */
const shown = (length: number): string => thousandthsText(Math.floor(length * 1_000 + 0.5));

/** A stock as it stands in the fields of its form, in millimetres. */
export function stockValues(stock: Stock): Record<string, string> {
  const { media, label, corner, hole } = stock;
  const onMedia: Record<string, string> =
    media.kind === "roll"
      ? {
          "media.width": shown(media.width),
          "media.printable": shown(media.printable),
          "media.length": media.length === "continuous" ? "" : shown(media.length),
        }
      : {
          "media.paper.width": shown(media.paper.width),
          "media.paper.height": shown(media.paper.height),
          "media.margin.left": shown(media.margin.left),
          "media.margin.top": shown(media.margin.top),
          "media.columns": String(media.columns),
          "media.rows": String(media.rows),
          "media.pitch.across": shown(media.pitch.across),
          "media.pitch.down": shown(media.pitch.down),
        };
  return {
    ...{ name: stock.name, words: stock.words, purpose: stock.purpose, unit: "mm" },
    ...{ "media.kind": media.kind, guides: stock.guides ? "yes" : "" },
    ...onMedia,
    "label.width": shown(label.width),
    "label.height": shown(label.height),
    corner: shown(corner),
    ...(hole
      ? { "hole.x": shown(hole.x), "hole.y": shown(hole.y), "hole.diameter": shown(hole.diameter) }
      : {}),
  };
}
