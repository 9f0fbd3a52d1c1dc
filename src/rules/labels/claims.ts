import { startsLike, wordsIn } from "./title-words.ts";

/** Beginnings of words that promise a law is met; a full stop marks a whole word. */
const claimStems = [
  ...["complian", "complies.", "comply.", "certif", "approv"],
  ...["conforme", "homolog", "zertifi", "gepruft"],
];

/**
 * Whether a text promises that a piece meets some law or standard. We cannot know that, so no text
 * that somebody typed may say it for us on a label (house rule).
 */
export const claimsCompliance = (text: string): boolean =>
  wordsIn(text).some((word) => claimStems.some((stem) => startsLike(word, stem)));
