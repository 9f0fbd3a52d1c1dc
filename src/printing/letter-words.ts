import { formatMoney } from "../rules/currency.ts";
import { dayText } from "../rules/day.ts";
import type { Minor } from "../rules/money.ts";
import { printReminderLetter } from "./reminder-letter.ts";
import type { PaperName } from "./sheet.ts";

interface Waiting {
  memberNumber: number;
  memberName: string;
  postalLine: string;
  statementNumber: number;
  saleName: string;
  amount: Minor;
  /** The day of the settlement and of the letter, as "2026-12-05". */
  owedSince: string;
  today: string;
}

interface Guild {
  name: string;
  address: string;
  currency: string;
  locale: string;
  paper: string;
}

/** The letter that reminds a member of money that waits, in the guild's words and amounts. */
export function printLetter(waiting: Waiting, guild: Guild): Promise<Uint8Array> {
  const money = formatMoney(waiting.amount, guild.currency, guild.locale);
  const since = dayText(waiting.owedSince, guild.locale);
  const { memberNumber, memberName, postalLine, statementNumber, saleName, today } = waiting;
  return printReminderLetter(
    {
      guildName: guild.name,
      guildLines: guild.address.split("\n").filter(Boolean),
      memberName,
      memberLines: [`Member ${memberNumber}`, postalLine].filter(Boolean),
      day: dayText(today, guild.locale),
      subject: `${money} of yours waits for you`,
      paragraphs: [
        `Dear ${memberName},`,
        `Your pieces sold at ${saleName}. Statement ${statementNumber}, settled on ${since}, says that ${money} is due to you. Our books do not show that it was paid.`,
        "It is your money and stays yours, however long it waits. We keep it for you and only ask you to tell us how you would like to have it.",
        "You can say on the page of your account whether you wish a cheque, a transfer or cash. Or tell our treasurer. If you had a cheque from us that was lost or is too old for the bank, tell us its number, and we write you another.",
        "If you have been paid already, please tell us on which day and how, so that our books can be put right.",
        `With kind regards, ${guild.name}`,
      ],
    },
    { paper: guild.paper as PaperName, createdAt: new Date(`${today}T00:00:00Z`) },
  );
}
