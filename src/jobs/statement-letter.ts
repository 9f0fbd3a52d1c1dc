import { printFrozen } from "../printing/statement-words.ts";
import { formatMoney } from "../rules/currency.ts";
import { spanText } from "../rules/day.ts";
import type { FrozenStatement } from "../rules/statement.ts";
import { outcomeLabels, outcomeOfStatement, payWords } from "../rules/statement-account.ts";

/**
 * A statement as a message: plain words, and the paper as PDF beside them. The subject says no
 * amount, because a telephone shows it to everybody in the room.
 */
export async function statementLetter(statement: FrozenStatement) {
  const { number, heading } = statement;
  return {
    subject: `Statement ${number}, ${heading.saleName}, ${heading.guildName}`,
    text: textOf(statement),
    attachments: [
      {
        filename: `statement-${number}.pdf`,
        content: Buffer.from(await printFrozen([statement])),
        contentType: "application/pdf",
      },
    ],
  };
}

function textOf(statement: FrozenStatement): string {
  const { number, heading, payout } = statement;
  const { currency, locale } = heading;
  const { state, amount } = outcomeOfStatement(statement);
  const days = spanText(heading.firstDay, heading.lastDay, locale);
  return [
    `Dear ${heading.memberName},`,
    "",
    `Here is your statement ${number} for ${heading.saleName}, ${days}.`,
    "",
    `${outcomeLabels[state]}: ${formatMoney(amount, currency, locale)}`,
    payout ? "The statement says when and how it was paid." : payWords(statement),
    "",
    "The statement is attached as a PDF. It shows what sold and when, what was taken off or added and why, and what did not sell and is to be collected.",
    "",
    "If something does not look right, please tell the treasurer.",
    "",
    heading.guildName,
    "",
  ].join("\n");
}
