import type { News } from "./keeper.ts";

/** "14:03", as the page's language writes a time of day. */
export const timeOf = (moment: string, language: string): string =>
  new Intl.DateTimeFormat(language, { timeStyle: "short" }).format(new Date(moment));

/** A day as well, for what was typed some time ago. */
export const momentOf = (moment: string, language: string): string =>
  new Intl.DateTimeFormat(language, { dateStyle: "long", timeStyle: "short" }).format(
    new Date(moment),
  );

const keptNowhere =
  "This browser keeps nothing on the device. Press “Keep as a draft” before you leave this page.";

/** What the line below the form says, in one calm sentence or two. */
export function newsWords(news: News, language: string): string {
  if (news.kind === "full")
    return "Kept on this device only: you have as many drafts as there is room for. Enter or discard some under My items.";
  if (news.kind === "signed-out")
    return "Kept on this device. You are signed out meanwhile: sign in again, and go on here.";
  const at = timeOf(news.at, language);
  if (news.kind === "sent") return `Kept at ${at}, under Drafts in My items as well.`;
  if (news.kind === "beside")
    return `This draft was kept in another place at ${timeOf(news.otherAt, language)}, ${news.newer ? "later" : "earlier"} than here (${at}). Both stand under Drafts in My items.`;
  if (!news.here) return keptNowhere;
  return news.kind === "kept"
    ? `Kept on this device at ${at}.`
    : `No connection: kept on this device at ${at}. It will be sent when you are back on line.`;
}

export const notSavedWords =
  "No connection, so nothing was saved yet. What you typed is kept on this device. Press the button again when you are back on line.";

export const offerWords = ({ typedAt }: { typedAt: string }, language: string): string =>
  `What you typed on this device on ${momentOf(typedAt, language)} is not entered yet. If you start empty, it stays under Drafts in My items.`;

export const putBackWords = ({ typedAt }: { typedAt: string }, language: string): string =>
  `Put back what you typed on this device at ${timeOf(typedAt, language)}.`;
