import { createTransport } from "nodemailer";

/** How messages go out: the mail server's address and who they are from. */
export interface MailWay {
  url: string;
  from: string;
}

/** Why a message did not go out, in words of our own, and whether trying again can help. */
export interface MailTrouble {
  words: string;
  forGood: boolean;
}

/** A mail server that says nothing must not hold up the messages behind it for long. */
const limits = { connectionTimeout: 15_000, greetingTimeout: 15_000, socketTimeout: 30_000 };

/** No message may take in a file or a page of the service's own machine. */
const shut = { disableFileAccess: true, disableUrlAccess: true };

export const openMailWay = ({ url, from }: MailWay) =>
  createTransport({ url, ...limits, ...shut }, { from });

/**
 * What went wrong, without a word of the mail server's: those can name the buyer's address. Only
 * an address that the server refuses for good (RFC 5321 section 4.2.1, 5yz to RCPT TO) is given
 * up at once; everything else can be put right.
 */
export function mailTrouble(error: unknown): MailTrouble {
  const { code, command, responseCode } = error as Record<string, unknown>;
  const number = typeof responseCode === "number" ? ` (${responseCode})` : "";
  const refused = typeof responseCode === "number" && responseCode >= 500;
  if (code === "EENVELOPE" && (command === "RCPT TO" || command === "API"))
    return {
      words: `The mail server does not take the address${number}`,
      forGood: refused || command === "API",
    };
  if (code === "EAUTH" || code === "ENOAUTH")
    return { words: `The mail server does not know us${number}`, forGood: false };
  if (number !== "")
    return { words: `The mail server did not take the message${number}`, forGood: false };
  return { words: "The mail server could not be reached", forGood: false };
}
