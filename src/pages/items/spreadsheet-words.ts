import type { ListLook, LookedRow } from "../../actions/item-lists/look-at-list.ts";
import type { CsvCell } from "../../rules/csv.ts";
import { amountText, digitsOf } from "../../rules/currency.ts";
import {
  columnWords,
  type ListColumn,
  listColumns,
  mendHeading,
  neededColumns,
} from "../../rules/item-list/columns.ts";

const headingOf = (field: string): string =>
  Object.hasOwn(columnWords, field) ? columnWords[field as ListColumn].heading : "";

/** A row of a list as the page shows it: what it says, and what is to be mended. */
export const lookedRow = ({ row, cells, faults }: LookedRow) => ({
  row,
  title: cells.description || "No description",
  more: [cells.kind, cells.colours, cells.size, cells.fibres].filter(Boolean).join(", "),
  price: cells.price ?? "",
  pieces: [
    ...(cells.quantity ? [`${cells.quantity} alike`] : []),
    ...(cells.piecesInSet ? [`set of ${cells.piecesInSet}`] : []),
  ].join(", "),
  faults: faults.map(({ field, message }) => ({ heading: headingOf(field), message })),
});

/** The faulty rows as they came, with what is to be mended beside each. */
export function rowsToMend({ headings, rows }: ListLook): CsvCell[][] {
  const faulty = rows.filter(({ faults }) => faults.length > 0);
  return [
    [...headings, mendHeading],
    ...faulty.map(({ record, faults }) => [
      ...record,
      faults
        .map(({ field, message }) => [headingOf(field), message].filter(Boolean).join(": "))
        .join(" "),
    ]),
  ];
}

interface StarterScene {
  currency: string;
  kinds: readonly { code: string; name: string }[];
  priceStep: number;
  priceFloor: number;
}

/** Headings and one invented piece that the sale would take as it stands. */
export function starterRows({ currency, kinds, priceStep, priceFloor }: StarterScene): CsvCell[][] {
  const unit = 10 ** digitsOf(currency);
  const kind = kinds.find(({ code }) => code === "towel") ?? kinds[0];
  const wanted = 36 * unit > priceFloor ? 36 * unit : priceFloor;
  const price = wanted + ((priceStep - (wanted % priceStep)) % priceStep);
  const examples: Partial<Record<ListColumn, string>> = {
    kind: kind?.name ?? columnWords.kind.example,
    price: amountText(price, currency),
    materials: amountText(8 * unit, currency),
  };
  return [
    listColumns.map((column) => columnWords[column].heading),
    listColumns.map((column) => examples[column] ?? columnWords[column].example),
  ];
}

/** What each column takes, for the table beside the form. */
export const columnHelp = listColumns.map((column) => ({
  ...columnWords[column],
  needed: (neededColumns as readonly string[]).includes(column),
}));

/** The count on the button: "Enter the 37 good rows". */
export const enterLabel = (good: number): string =>
  good === 1 ? "Enter the 1 good row" : `Enter the ${good} good rows`;
