import type { CareWords } from "../care/words.ts";

export const careFrench: CareWords = {
  wash: {
    none: "Ne pas laver.",
    "hand-30": "Laver à la main, 30 °C.",
    "very-gentle-30": "Laver en machine à 30 °C, programme très délicat.",
    "gentle-30": "Laver en machine à 30 °C, programme délicat.",
    "gentle-40": "Laver en machine à 40 °C, programme délicat.",
    "machine-40": "Laver en machine à 40 °C.",
    "machine-60": "Laver en machine à 60 °C.",
  },
  bleach: {
    none: "Ne pas blanchir.",
    "non-chlorine": "Blanchiment à l'oxygène seulement.",
    any: "",
  },
  dry: {
    "flat-shade": "Sécher à plat à l'ombre.",
    flat: "Sécher à plat.",
    line: "Sécher sur un fil.",
    "tumble-low": "Sèche-linge à basse température.",
    "tumble-medium": "Sèche-linge à température moyenne.",
  },
  iron: {
    none: "Ne pas repasser.",
    "1": "Repasser à fer doux{how} si besoin.",
    "2": "Repasser à fer moyen{how} si besoin.",
    "3": "Repasser à fer chaud{how} si besoin.",
  },
  how: {
    damp: " encore humide",
    "reverse-side": " sur l'envers",
    "press-cloth": " avec une pattemouille",
  },
  washNotes: { "no-wringing": "Ne pas tordre.", separately: "Laver séparément." },
  professional: {
    none: { beside: "Pas de nettoyage à sec.", alone: "Ne pas laver. Pas de nettoyage à sec." },
    "F-gentle": {
      beside: "Ou nettoyage à sec délicat, solvants hydrocarbonés seulement.",
      alone: "Nettoyage à sec délicat, solvants hydrocarbonés seulement.",
    },
    F: {
      beside: "Ou nettoyage à sec, solvants hydrocarbonés seulement.",
      alone: "Nettoyage à sec, solvants hydrocarbonés seulement.",
    },
    P: { beside: "Ou nettoyage à sec.", alone: "Nettoyage à sec seulement." },
  },
  says: {
    "colour-runs":
      "Teint à la main : la couleur peut déteindre. Laver séparément à l'eau froide les premières fois.",
    "skip-softener": "Pour bien absorber : ni adoucissant ni lingettes pour sèche-linge.",
    "may-shrink": "Peut rétrécir au premier lavage.",
    dust: "Épousseter légèrement.",
    "shake-out": "Secouer souvent.",
  },
};
