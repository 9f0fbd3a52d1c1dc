import { total } from "../../money.ts";
import type { Policy } from "../policy.ts";
import { guildShares } from "../share-rounding.ts";
import type { MoneyWords, PolicySection } from "./section.ts";

export function roundingSection({ rounding }: Policy): PolicySection {
  const basis =
    rounding.basis === "line"
      ? "The guild's part is rounded for each line by itself"
      : "The guild's part is rounded once, for all lines of a statement together";
  const halves =
    rounding.halves === "up"
      ? "half of the smallest coin counts as a whole one"
      : "half of the smallest coin goes to the even amount";
  return { title: "Rounding", sentences: [`${basis}; ${halves}.`] };
}

export function feesSection({ fees }: Policy, money: MoneyWords): PolicySection {
  const { entry, firstEntry, late, lateFor, missedShift } = fees;
  const forLate = lateFor === "item" ? "for each item" : "once for each member with anything";
  const sentences = [
    entry > 0 && `Entry fee: ${money(entry)} for each member who enters anything.`,
    firstEntry !== null && firstEntry !== entry && `${newcomers} ${money(firstEntry)}.`,
    late > 0 && `Late fee: ${money(late)} ${forLate} entered after the deadline.`,
    missedShift > 0 && `Missed shift: ${money(missedShift)} for each shift promised and missed.`,
  ].filter((sentence) => sentence !== false);
  return { title: "Fees", sentences: sentences.length > 0 ? sentences : ["There are no fees."] };
}

const newcomers = "Entry fee of those who sell for the first time:";

const example = { pieces: 5, price: 450, rate: 15_000 };
const exampleShare = (basis: "line" | "statement") =>
  total(
    guildShares(
      Array.from({ length: example.pieces }, (_, index) => ({
        ...{ lineId: String(index), quantity: 1, base: example.price, rate: example.rate },
      })),
      { basis, halves: "up" },
    ),
  );

/** Five pieces of 4.50 at 15 %, worked out with the rules: 3.40 in lines and 3.38 in all. */
export const roundingExample = {
  ...{ pieces: example.pieces, price: example.price },
  ...{ line: exampleShare("line"), statement: exampleShare("statement") },
};
