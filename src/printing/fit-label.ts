import type { LabelContent } from "../rules/labels/label-content.ts";
import { measuringFaces } from "./fonts.ts";
import type { Setting } from "./labels/laid.ts";
import type { Part } from "./labels/passages.ts";
import { setStrip } from "./labels/set-strip.ts";
import { setTag } from "./labels/set-tag.ts";
import { type Stock, type StockName, stockNames, stockOf, stocks } from "./stock.ts";

export { type Part, partWords } from "./labels/passages.ts";

export type Purpose = "tag" | "care-strip";

/** What would help a label that is too full: a larger stock, a second label, or neither. */
export type Suggestion = StockName | "second strip" | "shorter words";

export type Fit =
  | { fits: true; dropped: Part[]; textSize: number }
  | { fits: false; missing: Part[]; suggestion: Suggestion };

const purposeOf = (stock: Stock): Purpose =>
  stock.purpose === "care-strip" ? "care-strip" : "tag";

/**
 * Whether everything that must print has room on this stock, found by setting the label without
 * drawing it. `dropped` names what was given up by rule, `missing` what the law or the till needs
 * and what has no room even in the smallest letters. The guild's name never takes room from words.
 */
export function fitLabel(
  label: LabelContent,
  chosen: StockName | Stock,
  purpose: Purpose = purposeOf(stockOf(chosen)),
): Fit {
  const stock = stockOf(chosen);
  const setting = settingOf(label, stock, purpose);
  if (setting.fits) {
    return { fits: true, dropped: setting.dropped, textSize: setting.textSize };
  }
  const larger = largerStock(label, stock, purpose);
  const otherwise = setting.laid === undefined ? "shorter words" : "second strip";
  return { fits: false, missing: setting.missing, suggestion: larger ?? otherwise };
}

function settingOf(label: LabelContent, stock: Stock, purpose: Purpose): Setting {
  const faces = measuringFaces();
  if (purpose === "tag") return setTag(faces, label, stock, "");
  if ("description" in label) throw new TypeError("A care strip needs a full label.");
  return setStrip(faces, label, stock);
}

const area = ({ label }: Stock): number => label.width * label.height;

/** Sheets of the paper that lies in the printer already, or rolls for rolls. */
const isAlike = (one: Stock, other: Stock): boolean =>
  one.media.kind === "sheet" && other.media.kind === "sheet"
    ? one.media.paper.width === other.media.paper.width
    : one.media.kind === other.media.kind;

/** The smallest larger shipped stock of the same kind, sheets for sheets, on which all fits. */
function largerStock(label: LabelContent, stock: Stock, purpose: Purpose): StockName | undefined {
  return stockNames
    .filter((name) => {
      const other: Stock = stocks[name];
      const suits = [purpose, "both"].includes(other.purpose);
      return suits && isAlike(other, stock) && area(other) > area(stock);
    })
    .sort((one, other) => area(stocks[one]) - area(stocks[other]))
    .find((name) => settingOf(label, stocks[name], purpose).fits);
}
