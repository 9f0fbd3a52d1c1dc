import type { Caution } from "./caution.ts";

const forChildren = ["toy", "child-apparel", "baby-blanket", "sleepwear", "ornament"] as const;

/** Matters of pieces that children wear, play with or sleep under. */
export const childCautions: readonly Caution[] = [
  {
    code: "child-age",
    groups: forChildren,
    question: "Is it meant for a child, and of what age?",
    options: [
      { value: "adult", words: "Not meant for a child", outcome: "fine" },
      {
        value: "3-to-12",
        words: "A child from 3 to 12",
        outcome: "look",
        desk: "Look for lasting marks on the piece and its wrapping: maker, place, month and year made, item number. Certificate and testing duties may apply; ask a licensed adviser.",
      },
      {
        value: "under-3",
        words: "A child under 3",
        outcome: "look",
        desk: "Look for lasting marks on the piece and its wrapping: maker, place, month and year made, item number. Look for anything a small child could pull off. Certificate and testing duties may apply; ask a licensed adviser.",
      },
    ],
    rule: {
      words: "Goods for children of 12 and under carry lasting tracking marks.",
      source: "15 U.S.C. 2063(a)(5); testing duties from memory",
    },
  },
  {
    code: "small-parts",
    groups: ["toy", "ornament"],
    question: "Does it have buttons, beads or other small hard parts?",
    options: [
      { value: "none", words: "No small parts", outcome: "fine" },
      {
        value: "over-3",
        words: "Yes, and it is not meant for children under 3",
        outcome: "look",
        prints: ["small-parts"],
        desk: "Pull gently at every part, and see that the caution is on the tag.",
      },
      {
        value: "under-3",
        words: "Yes, and it is meant for a child under 3",
        outcome: "refuse",
        desk: "Small parts on goods for children under 3 are banned. The piece goes home.",
      },
    ],
    rule: {
      words:
        "A part that fits a cylinder 1.25 in wide and 2.25 in long is banned on goods for children under 3. Yarn, fabric and fuzz do not count.",
      source: "16 CFR 1501.3 and 1501.4",
    },
  },
  {
    code: "drawstrings",
    groups: ["child-apparel"],
    question: "Does it have cords or drawstrings?",
    options: [
      { value: "none", words: "No cords", outcome: "fine" },
      {
        value: "short-at-waist",
        words: "At waist or hem, at most 3 in outside, no toggle or knot, bar-tacked",
        outcome: "look",
        desk: "Measure the cord with the channel at full width: at most 3 in, no toggle or knot, sewn fast.",
      },
      {
        value: "other",
        words: "At hood or neck, or longer",
        outcome: "refuse",
        desk: "Cords like these may not be sold on children's outerwear. The piece goes home.",
      },
    ],
    rule: {
      words:
        "Children's outerwear: no hood or neck cords in sizes 2T to 12; short, fastened cords at waist or hem in sizes 2T to 16.",
      source: "16 CFR 1120.3 and ASTM F1816",
    },
  },
  {
    code: "sleepwear",
    groups: ["sleepwear"],
    question: "Is it sleepwear or a robe for a child?",
    options: [
      { value: "adult", words: "For a grown-up", outcome: "fine" },
      {
        value: "tested",
        words: "For a child, and the maker has a test report",
        outcome: "look",
        desk: "Ask to see the flammability report for this cloth.",
      },
      {
        value: "untested",
        words: "For a child",
        outcome: "refuse",
        desk: "Untested sleepwear for children may not be sold. The piece goes home.",
      },
    ],
    rule: {
      words: "Children's sleepwear has its own flammability tests.",
      source: "16 CFR 1615 and 1616",
    },
  },
  {
    code: "baby-blanket",
    groups: ["baby-blanket"],
    question: "Are its edges hemmed and its weave close?",
    options: [
      {
        value: "close",
        words: "Hemmed and closely woven",
        outcome: "look",
        prints: ["unattended-sleep"],
        desk: "See that the caution is on the tag.",
      },
      {
        value: "loose",
        words: "Fringed, or loosely woven",
        outcome: "hold",
        prints: ["unattended-sleep"],
        desk: "Long fringe and loose weave can snare fingers: talk with the member before it is sold.",
      },
    ],
    rule: {
      words: "Long fringe or loose weave can snare a baby's fingers.",
      source: "Common practice, no source",
      fromMemory: true,
    },
  },
];
