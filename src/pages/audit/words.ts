import { formatMoney } from "../../rules/currency.ts";
import { showTag } from "../../rules/tag-number.ts";

interface Money {
  currency: string;
  locale: string;
}

/** Details that are amounts in smallest coins; nobody should have to count their digits. */
const amounts = new Set([
  ...["total", "back", "float", "counted", "expected", "difference"],
  ...["price", "gross", "guildShare", "net", "amount", "fee"],
]);

/** Names that need more than their own letters to be understood. */
const named: Readonly<Record<string, string>> = {
  back: "Money back",
  tags: "Tags",
  done: "Pieces",
};

/** Ids tie rows together for programs; a person reads the tag, number or name beside them. */
const isForPeople = ([name, value]: [string, unknown]): boolean =>
  !/^id$|Id$/.test(name) && value !== "" && !(Array.isArray(value) && value.length === 0);

/** What a deed was about: "Tag: 104-012-57; Quantity: 2". */
export const detailWords = (detail: Readonly<Record<string, unknown>>, money: Money): string =>
  Object.entries(detail)
    .filter(isForPeople)
    .map(([name, value]) => `${named[name] ?? words(name)}: ${valueWords(name, value, money)}`)
    .join("; ");

/** "add-member" and "firstNumber" become "Add member" and "First number". */
export function words(name: string): string {
  const spaced = name
    .replace(/([a-z])([A-Z])/g, "$1 $2")
    .replaceAll("-", " ")
    .toLowerCase();
  return spaced.charAt(0).toUpperCase() + spaced.slice(1);
}

function valueWords(name: string, value: unknown, money: Money): string {
  if (Array.isArray(value)) return value.map((one) => valueWords(name, one, money)).join(", ");
  if (typeof value === "object" && value !== null) return rowWords(value, money);
  if (typeof value === "number" && amounts.has(name))
    return formatMoney(value, money.currency, money.locale);
  const text = String(value);
  return /^tags?$/.test(name) && /^\d+$/.test(text) ? showTag(text) : text;
}

/** One of several rows: its first value names it, the others stand in brackets. */
function rowWords(row: object, money: Money): string {
  const [first, ...others] = Object.entries(row)
    .filter(isForPeople)
    .map(([name, value]) => valueWords(name, value, money));
  return others.length > 0 ? `${first} (${others.join(", ")})` : (first ?? "");
}
