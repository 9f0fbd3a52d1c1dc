/**
 * How far a statement has come on its way to its member: never sent, to be printed because the
 * member has no address, in the queue, taken by the mail server, given up, or back later as a mail.
 */
export const mailStates = [
  ...(["unsent", "no-address", "waiting", "sent", "failed", "returned"] as const),
] as const;

export type MailState = (typeof mailStates)[number];
