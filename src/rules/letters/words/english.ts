import type { LetterWords } from "../words.ts";

export const english: LetterWords = {
  greeting: "Dear {member},",
  why: {
    "entry-deadline":
      "You get this letter because you are a member of {guild}, and every member is reminded before entries end.",
    "check-in-time": "You get this letter because you picked a check-in time.",
    "first-sold": "You get this letter because you asked to be told when your first piece sells.",
    "statement-ready": "You get this letter because you had pieces in the sale.",
  },
  stop: "No more letters of this kind, with one tap:",
  choose: "All your letters and their language:",
  deadline: {
    subject: "{sale}: entries end on {day}",
    text: [
      "Entries for {sale} end on {day} at {time}.",
      "{pieces}",
      "Enter pieces, or look at those you have entered:\n{link}",
      "If you are not taking part this time, you need do nothing.",
    ],
  },
  pieces: {
    none: "You have entered no piece yet.",
    one: "You have entered 1 piece.",
    many: "You have entered {count} pieces.",
  },
  checkIn: {
    subject: "{sale}: your check-in time on {day}",
    text: [
      "The desk expects you and your pieces for {sale} on {day}, between {from} and {until}.",
      "{where}",
      "If that time no longer suits you, pick another one, so that somebody else can have it:\n{link}",
    ],
  },
  firstSold: {
    subject: "{sale}: your first piece is sold",
    text: [
      "Your first piece at {sale} has found a buyer: {piece} (tag {tag}).",
      "You get this letter once for each sale. What sells after it is here:\n{link}",
    ],
  },
  statement: {
    subject: "{sale}: your statement is ready",
    text: [
      "Your statement {number} for {sale} is ready. You can read and print it here, after signing in:\n{link}",
      "If something does not look right, please tell the treasurer.",
    ],
  },
  kinds: {
    "entry-deadline": "Reminders before entries end",
    "check-in-time": "The day before your check-in time",
    "first-sold": "Your first piece sold",
    "statement-ready": "Your statement is ready",
  },
  page: {
    title: "No more letters of this kind?",
    ask: "The letters: {kind}. Other letters are not touched.",
    button: "Send me no more of these",
    stopped: "You get no more of these letters",
    stoppedText: "The letters: {kind}. A message that is on its way already may still arrive.",
    again: "I want them after all",
    back: "You get these letters again",
    backText: "The letters: {kind}.",
    stopAgain: "No, send me none",
  },
};
