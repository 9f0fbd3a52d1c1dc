import type { CareWords } from "../care/words.ts";

/** Degrees instead of cold and warm, and British spelling. */
export const careEnglishGb: CareWords = {
  wash: {
    none: "Do not wash.",
    "hand-30": "Hand wash cool, 30 °C.",
    "very-gentle-30": "Machine wash 30 °C, very gentle cycle.",
    "gentle-30": "Machine wash 30 °C, gentle cycle.",
    "gentle-40": "Machine wash 40 °C, gentle cycle.",
    "machine-40": "Machine wash 40 °C.",
    "machine-60": "Machine wash 60 °C.",
  },
  bleach: { none: "Do not bleach.", "non-chlorine": "Oxygen bleach only.", any: "" },
  dry: {
    "flat-shade": "Dry flat in the shade.",
    flat: "Dry flat.",
    line: "Line dry.",
    "tumble-low": "Tumble dry low.",
    "tumble-medium": "Tumble dry medium.",
  },
  iron: {
    none: "Do not iron.",
    "1": "Cool iron{how} if needed.",
    "2": "Warm iron{how} if needed.",
    "3": "Hot iron{how} if needed.",
  },
  how: {
    damp: " while damp",
    "reverse-side": " on the reverse",
    "press-cloth": " with a pressing cloth",
  },
  washNotes: { "no-wringing": "Do not wring.", separately: "Wash separately." },
  professional: {
    none: { beside: "Do not dry clean.", alone: "Do not wash. Do not dry clean." },
    "F-gentle": {
      beside: "Or dry clean gently, hydrocarbon solvent only.",
      alone: "Dry clean gently, hydrocarbon solvent only.",
    },
    F: {
      beside: "Or dry clean, hydrocarbon solvent only.",
      alone: "Dry clean, hydrocarbon solvent only.",
    },
    P: { beside: "Or dry clean.", alone: "Dry clean only." },
  },
  says: {
    "colour-runs": "Hand-dyed: colour may run. Wash separately in cool water the first few times.",
    "skip-softener": "For best absorbency skip fabric softener and dryer sheets.",
    "may-shrink": "May shrink in the first wash.",
    dust: "Dust lightly.",
    "shake-out": "Shake out often.",
  },
};
