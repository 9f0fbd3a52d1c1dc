import type { CsvCell } from "../csv.ts";
import { amountText } from "../currency.ts";
import type { Minor } from "../money.ts";

/** A sale elsewhere as far as its line of the file needs it. */
export interface ElsewhereLine {
  day: string;
  outlet: string;
  kindName: string;
  description: string;
  colours: string;
  quantity: number;
  price: Minor;
  kept: Minor;
  left: Minor;
  minutes: number | null;
  materials: Minor | null;
  takenBack: boolean;
}

const head = [
  ...["day", "outlet", "kind", "description", "colours", "pieces", "price of one", "kept there"],
  ...["yours", "minutes for one", "materials for one", "taken back"],
];

/** A member's sales elsewhere as a table; those taken back are marked. */
export const elsewhereCsv = (sales: readonly ElsewhereLine[], currency: string): CsvCell[][] => {
  const figure = (amount: Minor): CsvCell => ({ figure: amountText(amount, currency) });
  return [
    head,
    ...sales.map((one): CsvCell[] => [
      ...[one.day, one.outlet, one.kindName, one.description, one.colours, one.quantity],
      ...[figure(one.price), figure(one.kept), figure(one.left), one.minutes],
      ...[one.materials === null ? null : figure(one.materials), one.takenBack ? "yes" : "no"],
    ]),
  ];
};
