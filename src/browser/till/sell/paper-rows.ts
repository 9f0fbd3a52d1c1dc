import type { TillSceneShown } from "../../../contract/till-device.ts";
import type { ReceiptFact } from "../../../contract/till-fact.ts";
import { showTag } from "../../../rules/tag-number.ts";
import { taxTitle } from "../../../rules/tax/tax-title.ts";
import { tenderWords } from "../../../rules/tender.ts";
import type { Named } from "./coming-back.ts";
import type { Words } from "./words.ts";

/** One row on the roll: words to the left, a figure to the right. */
export interface PaperRow {
  text: string;
  figure: string;
  strong?: boolean;
}

export interface Paper {
  heading: string[];
  copy: boolean;
  title: string;
  about: string[];
  lines: PaperRow[];
  sums: PaperRow[];
  foot: string[];
}

/** A receipt and the till that made it. */
export type Printed = Pick<Named, "fact" | "tillNumber">;

const titles = { sale: "Receipt", return: "Return", void: "Void" };

/** Everything that a printed receipt says, in order, ready to be drawn on any width. */
export function paperOf(
  { fact, tillNumber }: Printed,
  scene: TillSceneShown,
  words: Words,
  copy: boolean,
): Paper {
  const cashier = scene.cashiers.find(({ id }) => id === fact.cashierId)?.name ?? "";
  const { guild, sale } = scene;
  return {
    heading: [guild.name, ...guild.address.split("\n"), sale.name].filter(Boolean),
    copy,
    title: `${titles[fact.kind]} ${words.receipt(fact.number, tillNumber)}`,
    about: [
      words.moment(fact.madeAt),
      cashier ? `Till ${tillNumber}, served by ${cashier.split(" ")[0]}` : `Till ${tillNumber}`,
      fact.reason ? `Reason: ${fact.reason}` : "",
      fact.exemption ? `Tax exempt, certificate ${fact.exemption}` : "",
    ].filter(Boolean),
    lines: fact.lines.flatMap((line) => lineRows(line, words)),
    sums: sumRows(fact, scene, words),
    foot: [sale.receiptFooter, copy ? "COPY" : ""].filter(Boolean),
  };
}

function lineRows(line: ReceiptFact["lines"][number], { money }: Words): PaperRow[] {
  const { tag, description, quantity, unitPrice, discount } = line;
  const several = Math.abs(quantity) > 1 ? ` ${Math.abs(quantity)} × ${money(unitPrice)}` : "";
  const rows = [
    {
      text: `${description}${several}${tag ? ` (${showTag(tag)})` : ""}`,
      figure: money(quantity * unitPrice),
    },
  ];
  return discount === 0 ? rows : [...rows, { text: "Discount", figure: money(0 - discount) }];
}

function sumRows(fact: ReceiptFact, { sale }: TillSceneShown, { money }: Words): PaperRow[] {
  const inside = sale.tax.included && fact.exemption === "";
  const taxes = fact.taxes.map(({ name, rate, tax }) => ({
    text: `${taxTitle({ name, rate })}${inside ? ", in the price" : ""}`,
    figure: money(tax),
  }));
  const total = { text: "Total", figure: money(fact.total), strong: true };
  const before = { text: inside ? "Of it before tax" : "Before tax", figure: money(fact.subtotal) };
  const sums = inside ? [total, before, ...taxes] : [before, ...taxes, total];
  const tenders = fact.tenders.map(({ kind, amount, reference }) => ({
    text: `${kind === "exchange" ? "Exchanged" : tenderWords[kind]}${reference ? ` ${reference}` : ""}`,
    figure: money(amount),
  }));
  const cash = [
    ...(fact.rounding === 0 ? [] : [{ text: "Cash rounding", figure: money(fact.rounding) }]),
    ...tenders,
    ...(fact.cashGiven === 0 ? [] : [{ text: "Cash given", figure: money(fact.cashGiven) }]),
    ...(fact.change === 0 ? [] : [{ text: "Change", figure: money(fact.change), strong: true }]),
  ];
  return [...sums, ...cash];
}
