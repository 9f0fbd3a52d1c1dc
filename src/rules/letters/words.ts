import type { LetterKind } from "./kinds.ts";

/**
 * Everything that a letter says, in one language. Texts have {gaps}; a letter's own gaps are
 * guild, member, sale and place, and what its kind knows beside them.
 */
export interface LetterWords {
  greeting: string;
  /** Under every letter: why it came and how to get no more of its kind. */
  why: Record<LetterKind, string>;
  stop: string;
  choose: string;
  /** "day" and "time" of the deadline; "pieces" is one of those below; "link" leads to the member's pieces. */
  deadline: { subject: string; text: string[] };
  pieces: { none: string; one: string; many: string };
  /** "day", "from" and "until" of the time; "link" leads to it. */
  checkIn: { subject: string; text: string[] };
  /** "piece" and "tag" of what sold; "link" leads to what sold. */
  firstSold: { subject: string; text: string[] };
  /** "number" of the statement; "link" leads to it. */
  statement: { subject: string; text: string[] };
  /** How the page behind the link names each kind. */
  kinds: Record<LetterKind, string>;
  page: {
    title: string;
    ask: string;
    button: string;
    stopped: string;
    stoppedText: string;
    again: string;
    back: string;
    backText: string;
    stopAgain: string;
  };
}
