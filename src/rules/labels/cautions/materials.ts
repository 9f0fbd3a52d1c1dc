import type { Caution } from "./caution.ts";

const trimmed = ["wall", "ornament", "jewellery", "headwear", "bag", "other"] as const;

/** Matters of what a piece holds or is made with. */
export const materialCautions: readonly Caution[] = [
  {
    code: "magnet",
    groups: ["jewellery", "ornament", "bag", "toy", "other"],
    question: "Does it hold a magnet?",
    options: [
      { value: "none", words: "No magnet", outcome: "fine" },
      {
        value: "shown",
        words: "Yes, and I can show its strength on paper",
        outcome: "look",
        prints: ["magnet"],
        desk: "Look at the paper: a flux index under 50 for a magnet that can come loose. See that the caution is on the tag. Ask a licensed adviser when in doubt.",
      },
      {
        value: "yes",
        words: "Yes",
        outcome: "hold",
        prints: ["magnet"],
        desk: "Hold the piece until the maker shows how strong the magnet is.",
      },
    ],
    rule: {
      words:
        "Jewellery with a loose or separable magnet small enough to swallow needs a flux index under 50 kG² mm².",
      source: "16 CFR 1262.2 and 1262.3; the distance to implants from memory",
    },
  },
  {
    code: "filling",
    groups: ["filled", "toy", "cosy", "other"],
    question: "Is it stuffed or filled?",
    options: [
      { value: "none", words: "Not filled", outcome: "fine" },
      {
        value: "filled",
        words: "Filled",
        outcome: "look",
        desk: "Many states want a label, often with a registry number, on filled goods: ask the treasurer.",
      },
      {
        value: "weighted",
        words: "Filled to be heavy, for a grown-up",
        outcome: "look",
        desk: "Say to buyers that it is not for infants or young children. Many states want a label on filled goods: ask the treasurer.",
      },
      {
        value: "weighted-child",
        words: "Filled to be heavy, for a baby or young child",
        outcome: "refuse",
        desk: "Weighted goods for babies and young children are not sold here. The piece goes home.",
      },
    ],
    rule: {
      words: "Pillows, cushions and filled toys fall under state label laws, which differ.",
      source: "State laws on filled goods; weighted goods from memory",
    },
  },
  {
    code: "feathers",
    groups: trimmed,
    question: "Does it hold feathers?",
    options: [
      { value: "none", words: "No feathers", outcome: "fine" },
      {
        value: "poultry",
        words: "Yes, from domestic poultry",
        outcome: "look",
        desk: "Ask where the feathers came from.",
      },
      {
        value: "wild",
        words: "Yes, found or from wild birds",
        outcome: "refuse",
        desk: "Feathers of wild native birds may not be sold, even if found. The piece goes home.",
      },
    ],
    rule: {
      words: "Feathers of wild native birds may not be sold, even if found.",
      source: "16 U.S.C. 703 and following",
      fromMemory: true,
    },
  },
  {
    code: "fur",
    groups: [...trimmed, "child-apparel", "gloves", "footwear"],
    kinds: ["vest", "jacket"],
    question: "Does it hold fur?",
    options: [
      { value: "none", words: "No fur", outcome: "fine" },
      {
        value: "labelled",
        words: "Yes, with a fur label",
        outcome: "look",
        desk: "Look for the fur label: animal, where the fur is from, maker, dyed or not.",
      },
      {
        value: "unlabelled",
        words: "Yes, without a fur label",
        outcome: "refuse",
        desk: "Fur needs its own label: animal, where the fur is from, maker, dyed or not.",
      },
    ],
    rule: {
      words: "Fur carries its own label, whatever it costs, since 18 March 2011.",
      source: "Fur Products Labeling Act, as amended",
    },
  },
  {
    code: "microwave",
    groups: ["cosy"],
    question: "Are thread and filling nothing but cotton?",
    options: [
      {
        value: "all-cotton",
        words: "Yes, cotton cloth, thread and filling",
        outcome: "look",
        desk: "Ask which thread was used.",
      },
      {
        value: "not-sure",
        words: "No, or not sure",
        outcome: "look",
        prints: ["microwave"],
        desk: "See that the caution is on the tag.",
      },
    ],
    rule: {
      words: "Metallic or synthetic thread can spark or melt in a microwave.",
      source: "Common practice, no source",
      fromMemory: true,
    },
  },
  {
    code: "candle-or-soap",
    groups: ["candle", "soap"],
    question: "Does this sale allow it, and does the maker bring its label?",
    options: [
      {
        value: "allowed",
        words: "The sale allows it, and its label is on it",
        outcome: "look",
        desk: "Look for the maker's own label with the caution text; soap that promises more than washing is another matter.",
      },
      {
        value: "not-allowed",
        words: "No, or not sure",
        outcome: "refuse",
        desk: "Candles and soap are taken only where the sale allows them and the maker's label is on them.",
      },
    ],
    rule: {
      words: "Candles carry caution text; soap and cosmetics fall under different laws.",
      source: "ASTM F2058 and 21 CFR 701.20",
      fromMemory: true,
    },
  },
];
