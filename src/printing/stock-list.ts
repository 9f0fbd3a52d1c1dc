import { formatMoney } from "../rules/currency.ts";
import { spanText } from "../rules/day.ts";
import { total } from "../rules/money.ts";
import { printRunPaper } from "./run-paper.ts";
import type { PaperName } from "./sheet.ts";
import { type Column, drawTable } from "./table.ts";
import { drawSignatures } from "./till-paper.ts";

/** A member's entries of a sale, as they were on a day. */
export interface StockList {
  guild: { name: string; address: string; currency: string; locale: string; paper: string };
  sale: { name: string; firstDay: string; lastDay: string };
  member: { number: number; name: string };
  items: readonly StockItem[];
}

export interface StockItem {
  shownTag: string;
  description: string;
  kindName: string;
  price: number;
  quantity: number;
  piecesInSet: number;
}

const columns: Column[] = [
  { heading: "Came", align: "left" },
  { heading: "Tag", align: "left" },
  { heading: "Description", align: "left", wide: true },
  { heading: "Kind", align: "left" },
  { heading: "In a set", align: "right" },
  { heading: "Pieces", align: "right" },
  { heading: "Price of one", align: "right" },
];

const box = "☐";

/** What the two signatures say, and what they do not. The agreement of the sale is another paper. */
const meaning = [
  "By signing, the member and the desk say that the pieces ticked above came to the desk on the day given here, in the numbers given here. A piece that is not ticked did not come.",
  "Nothing else is meant: every piece stays its maker's until it is sold, prices stay as entered, and what was agreed for this sale holds as it is.",
];

/** As much as the words, the day and both signatures take, so that they never part. */
const signedHeight = 210;

/** The list to be ticked and signed when the pieces come. The same list gives the same bytes. */
export function printStockList(list: StockList, createdAt: Date): Promise<Uint8Array> {
  const { guild, sale, member, items } = list;
  const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
  const entries = items.length === 1 ? "1 entry" : `${items.length} entries`;
  const pieces = total(items.map(({ quantity }) => quantity));
  const worth = money(total(items.map(({ price, quantity }) => price * quantity)));
  const head = {
    ...{ title: "Stock list", guildName: guild.name, about: sale.name, sum: entries },
    guildLines: guild.address.split("\n").filter(Boolean),
    run: `Member ${member.number} ${member.name}`,
    day: spanText(sale.firstDay, sale.lastDay, guild.locale),
  };
  return printRunPaper(head, { paper: guild.paper as PaperName, createdAt }, (flow) => {
    const rows = items.map((item) => rowOf(item, money));
    const totals = ["", "", `${entries}, priced together`, "", "", String(pieces), worth];
    drawTable(flow, { columns, rows, totals });
    flow.need(signedHeight);
    flow.space(16);
    for (const words of meaning) flow.paragraph(flow.faces.regular, 9.5, words);
    drawSignatures(flow, ["Day"]);
    drawSignatures(flow, ["The member", "For the desk"]);
  });
}

const rowOf = (item: StockItem, money: (amount: number) => string): string[] => [
  ...[box, item.shownTag, item.description, item.kindName],
  ...[item.piecesInSet > 1 ? String(item.piecesInSet) : "", String(item.quantity)],
  money(item.price),
];
