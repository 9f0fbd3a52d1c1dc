import type { CareWords } from "../care/words.ts";

export const careGerman: CareWords = {
  wash: {
    none: "Nicht waschen.",
    "hand-30": "Handwäsche, 30 °C.",
    "very-gentle-30": "Maschinenwäsche 30 °C, besonders schonend.",
    "gentle-30": "Maschinenwäsche 30 °C, schonend.",
    "gentle-40": "Maschinenwäsche 40 °C, schonend.",
    "machine-40": "Maschinenwäsche 40 °C.",
    "machine-60": "Maschinenwäsche 60 °C.",
  },
  bleach: { none: "Nicht bleichen.", "non-chlorine": "Nur mit Sauerstoff bleichen.", any: "" },
  dry: {
    "flat-shade": "Liegend im Schatten trocknen.",
    flat: "Liegend trocknen.",
    line: "Auf der Leine trocknen.",
    "tumble-low": "Trockner bei niedriger Temperatur.",
    "tumble-medium": "Trockner bei mittlerer Temperatur.",
  },
  iron: {
    none: "Nicht bügeln.",
    "1": "Bei Bedarf kühl bügeln{how}.",
    "2": "Bei Bedarf warm bügeln{how}.",
    "3": "Bei Bedarf heiß bügeln{how}.",
  },
  how: {
    damp: ", noch feucht",
    "reverse-side": ", von links",
    "press-cloth": ", mit Bügeltuch",
  },
  washNotes: { "no-wringing": "Nicht wringen.", separately: "Getrennt waschen." },
  professional: {
    none: { beside: "Nicht chemisch reinigen.", alone: "Nicht waschen. Nicht chemisch reinigen." },
    "F-gentle": {
      beside: "Oder schonend reinigen, nur Kohlenwasserstoffe.",
      alone: "Schonend reinigen, nur Kohlenwasserstoffe.",
    },
    F: {
      beside: "Oder chemisch reinigen, nur Kohlenwasserstoffe.",
      alone: "Chemisch reinigen, nur Kohlenwasserstoffe.",
    },
    P: { beside: "Oder chemisch reinigen.", alone: "Nur chemisch reinigen." },
  },
  says: {
    "colour-runs": "Handgefärbt: Farbe kann auslaufen. Die ersten Male getrennt und kühl waschen.",
    "skip-softener": "Ohne Weichspüler und Trocknertücher saugt es am besten.",
    "may-shrink": "Kann bei der ersten Wäsche einlaufen.",
    dust: "Leicht abstauben.",
    "shake-out": "Oft ausschütteln.",
  },
};
