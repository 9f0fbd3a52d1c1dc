import type { CareWords } from "../care/words.ts";

/** Cold, warm and hot as 16 CFR 423, Appendix A has them: up to 30, 44 and 63 degrees Celsius. */
export const careEnglishUs: CareWords = {
  wash: {
    none: "Do not wash.",
    "hand-30": "Hand wash cold.",
    "very-gentle-30": "Machine wash cold, very gentle cycle.",
    "gentle-30": "Machine wash cold, gentle cycle.",
    "gentle-40": "Machine wash warm, gentle cycle.",
    "machine-40": "Machine wash warm.",
    "machine-60": "Machine wash hot.",
  },
  bleach: {
    none: "Do not bleach.",
    "non-chlorine": "Only non-chlorine bleach, when needed.",
    any: "",
  },
  dry: {
    "flat-shade": "Dry flat in shade.",
    flat: "Dry flat.",
    line: "Line dry.",
    "tumble-low": "Tumble dry low.",
    "tumble-medium": "Tumble dry medium.",
  },
  iron: {
    none: "Do not iron.",
    "1": "Cool iron{how} if needed.",
    "2": "Warm iron{how} if needed.",
    "3": "Iron hot{how} if needed.",
  },
  how: {
    damp: " while damp",
    "reverse-side": " on reverse side",
    "press-cloth": " with press cloth",
  },
  washNotes: { "no-wringing": "Do not wring.", separately: "Wash separately." },
  professional: {
    none: { beside: "Do not dryclean.", alone: "Do not wash - do not dryclean." },
    "F-gentle": {
      beside: "Or dryclean gently, petroleum solvent only.",
      alone: "Dryclean gently, petroleum solvent only.",
    },
    F: {
      beside: "Or dryclean, petroleum solvent only.",
      alone: "Dryclean, petroleum solvent only.",
    },
    P: { beside: "Or dryclean.", alone: "Dryclean only." },
  },
  says: {
    "colour-runs": "Hand-dyed: color may run. Wash separately in cool water the first few times.",
    "skip-softener": "For best absorbency skip fabric softener and dryer sheets.",
    "may-shrink": "May shrink in the first wash.",
    dust: "Dust lightly.",
    "shake-out": "Shake out often.",
  },
};
