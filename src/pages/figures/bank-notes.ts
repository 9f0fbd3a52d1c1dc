import type { Banking } from "../../database/figures/banking.ts";
import { dayText } from "../../rules/day.ts";
import type { GuildWords } from "../books/scene.ts";
import { whenText } from "../format.ts";

/** Every difference by its name, its day and its till; none when all that was taken is banked. */
export const bankNotes = (found: Banking, guild: GuildWords): string[] => [
  ...found.openTills.map((till) => `Till ${till} is not cashed up yet.`),
  ...found.drawers.flatMap(({ till, at, difference }) =>
    difference === 0
      ? []
      : [
          `Till ${till} was ${amount(difference, guild)} ${difference < 0 ? "short" : "over"} at its cash-up of ${whenText(at, guild)}.`,
        ],
  ),
  ...found.inHand.flatMap((row) => handNote(row, found.openTills.length > 0, guild)),
  ...cardNotes(found, guild),
];

const amount = (value: number, { money }: GuildWords): string => money(Math.abs(value));

const handWords: Record<string, string> = {
  "cash-box": "the cash box",
  safe: "the safe",
  cheques: "cheques",
};

type Hand = Banking["inHand"][number];

function handNote({ source, still }: Hand, tillsOpen: boolean, guild: GuildWords): string[] {
  if (still === 0) return [];
  const where = handWords[source] ?? source;
  if (still < 0 && source === "cash-box" && tillsOpen)
    return [`${amount(still, guild)} left the cash box for tills that are not cashed up yet.`];
  if (still < 0) return [`${amount(still, guild)} more left ${where} than came in.`];
  return source === "cheques"
    ? [`Cheques of ${amount(still, guild)} are not at the bank yet.`]
    : [`${amount(still, guild)} is still in ${where}.`];
}

/** Of a single till's day only the till is named; the whole day says the same again. */
function cardNotes({ cards }: Banking, guild: GuildWords): string[] {
  return cards.flatMap(({ day, till, difference, terminal, recorded }) => {
    const when = dayText(day, guild.locale);
    const tillsDiffer = cards.some(
      (other) => other.day === day && other.till !== null && (other.difference ?? 0) !== 0,
    );
    if (till === null && terminal === null && recorded !== 0)
      return [`Cards of ${when}: not every total of the terminal is typed in yet.`];
    if (!difference || (till === null && tillsDiffer)) return [];
    const who = till === null ? "all tills" : `till ${till}`;
    const which = difference > 0 ? "more" : "less";
    return [
      `Cards of ${when}, ${who}: the terminal says ${amount(difference, guild)} ${which} than was recorded.`,
    ];
  });
}
