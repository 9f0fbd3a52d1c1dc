import type { LetterWords } from "../words.ts";

export const german: LetterWords = {
  greeting: "Guten Tag {member},",
  why: {
    "entry-deadline":
      "Sie bekommen diese Nachricht als Mitglied von {guild}; alle Mitglieder werden vor dem Anmeldeschluss erinnert.",
    "check-in-time":
      "Sie bekommen diese Nachricht, weil Sie sich eine Zeit für die Abgabe ausgesucht haben.",
    "first-sold":
      "Sie bekommen diese Nachricht, weil Sie wissen wollten, wann Ihr erstes Stück verkauft ist.",
    "statement-ready": "Sie bekommen diese Nachricht, weil Sie Stücke in diesem Verkauf hatten.",
  },
  stop: "Keine Nachrichten dieser Art mehr, mit einem Tippen:",
  choose: "Alle Ihre Nachrichten und ihre Sprache:",
  deadline: {
    subject: "{sale}: Anmeldeschluss am {day}",
    text: [
      "Stücke für {sale} können Sie bis {day}, {time}, anmelden.",
      "{pieces}",
      "Stücke anmelden oder ansehen, was Sie angemeldet haben:\n{link}",
      "Wenn Sie diesmal nicht mitmachen, brauchen Sie nichts zu tun.",
    ],
  },
  pieces: {
    none: "Sie haben noch kein Stück angemeldet.",
    one: "Sie haben 1 Stück angemeldet.",
    many: "Sie haben {count} Stücke angemeldet.",
  },
  checkIn: {
    subject: "{sale}: Ihre Abgabezeit am {day}",
    text: [
      "Wir erwarten Sie mit Ihren Stücken für {sale} am {day} zwischen {from} und {until}.",
      "{where}",
      "Wenn diese Zeit nicht mehr passt, suchen Sie sich bitte eine andere aus, damit jemand sie haben kann:\n{link}",
    ],
  },
  firstSold: {
    subject: "{sale}: Ihr erstes Stück ist verkauft",
    text: [
      "Ihr erstes Stück bei {sale} ist verkauft: {piece} (Etikett {tag}).",
      "Diese Nachricht kommt einmal je Verkauf. Was danach verkauft wird, steht hier:\n{link}",
    ],
  },
  statement: {
    subject: "{sale}: Ihre Abrechnung ist fertig",
    text: [
      "Ihre Abrechnung {number} für {sale} ist fertig. Nach der Anmeldung können Sie sie hier lesen und drucken:\n{link}",
      "Wenn etwas nicht stimmt, sagen Sie es bitte der Kassenführung.",
    ],
  },
  kinds: {
    "entry-deadline": "Erinnerungen vor dem Anmeldeschluss",
    "check-in-time": "Am Tag vor Ihrer Abgabezeit",
    "first-sold": "Ihr erstes verkauftes Stück",
    "statement-ready": "Ihre Abrechnung ist fertig",
  },
  page: {
    title: "Keine Nachrichten dieser Art mehr?",
    ask: "Die Nachrichten: {kind}. Andere Nachrichten bleiben, wie sie sind.",
    button: "Keine davon mehr schicken",
    stopped: "Sie bekommen keine dieser Nachrichten mehr",
    stoppedText:
      "Die Nachrichten: {kind}. Eine Nachricht, die schon unterwegs ist, kann noch ankommen.",
    again: "Ich möchte sie doch",
    back: "Sie bekommen diese Nachrichten wieder",
    backText: "Die Nachrichten: {kind}.",
    stopAgain: "Nein, keine davon schicken",
  },
};
