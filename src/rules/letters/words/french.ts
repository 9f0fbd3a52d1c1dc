import type { LetterWords } from "../words.ts";

export const french: LetterWords = {
  greeting: "Bonjour {member},",
  why: {
    "entry-deadline":
      "Vous recevez ce message parce que vous êtes membre de {guild} ; chaque membre est prévenu avant la fin des inscriptions.",
    "check-in-time":
      "Vous recevez ce message parce que vous avez choisi une heure pour le dépôt de vos pièces.",
    "first-sold":
      "Vous recevez ce message parce que vous avez demandé à savoir quand votre première pièce est vendue.",
    "statement-ready": "Vous recevez ce message parce que vous aviez des pièces dans la vente.",
  },
  stop: "Ne plus recevoir ce genre de message, en un seul geste :",
  choose: "Tous vos messages et leur langue :",
  deadline: {
    subject: "{sale} : les inscriptions se terminent le {day}",
    text: [
      "Les inscriptions pour {sale} se terminent le {day} à {time}.",
      "{pieces}",
      "Pour inscrire des pièces ou revoir celles que vous avez inscrites :\n{link}",
      "Si vous ne participez pas cette fois-ci, vous n'avez rien à faire.",
    ],
  },
  pieces: {
    none: "Vous n'avez encore inscrit aucune pièce.",
    one: "Vous avez inscrit 1 pièce.",
    many: "Vous avez inscrit {count} pièces.",
  },
  checkIn: {
    subject: "{sale} : dépôt de vos pièces le {day}",
    text: [
      "L'accueil vous attend avec vos pièces pour {sale} le {day}, entre {from} et {until}.",
      "{where}",
      "Si cette heure ne vous convient plus, choisissez-en une autre, pour que quelqu'un d'autre puisse la prendre :\n{link}",
    ],
  },
  firstSold: {
    subject: "{sale} : votre première pièce est vendue",
    text: [
      "Votre première pièce à {sale} a trouvé preneur : {piece} (étiquette {tag}).",
      "Ce message ne vient qu'une fois par vente. Vous trouverez la suite ici :\n{link}",
    ],
  },
  statement: {
    subject: "{sale} : votre relevé est prêt",
    text: [
      "Votre relevé {number} pour {sale} est prêt. Vous pouvez le lire et l'imprimer ici, après vous être identifié :\n{link}",
      "Si quelque chose ne vous paraît pas juste, dites-le à la trésorerie.",
    ],
  },
  kinds: {
    "entry-deadline": "Rappels avant la fin des inscriptions",
    "check-in-time": "La veille de votre heure de dépôt",
    "first-sold": "Votre première pièce vendue",
    "statement-ready": "Votre relevé est prêt",
  },
  page: {
    title: "Ne plus recevoir ces messages ?",
    ask: "Les messages : {kind}. Les autres messages ne changent pas.",
    button: "Ne plus m'envoyer ces messages",
    stopped: "Vous ne recevrez plus ces messages",
    stoppedText: "Les messages : {kind}. Un message déjà en route peut encore arriver.",
    again: "Je les veux quand même",
    back: "Vous recevrez de nouveau ces messages",
    backText: "Les messages : {kind}.",
    stopAgain: "Non, ne plus me les envoyer",
  },
};
