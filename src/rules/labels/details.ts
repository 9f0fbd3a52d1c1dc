import type { Fibre } from "../fibre.ts";
import type { YarnNumber } from "../weave/yarn-number.ts";
import type { Finish } from "./care/adjustments.ts";
import type { CareLevels } from "./care/levels.ts";
import type { Cloth } from "./cautions/flame.ts";
import type { Section } from "./contents.ts";
import type { Craft } from "./pack.ts";

/** A warp or weft yarn of the finished piece; the amount is in thousandths of its unit. */
export interface LabelYarn {
  place: "warp" | "weft";
  amount: { unit: "g" | "oz" | "lb" | "m" | "yd"; thousandths: number };
  /** Needed with a length, and left out with a weight. */
  number: YarnNumber | null;
  blend: Fibre[];
}

/** A further part of the piece whose fibres differ, such as a lining or a fringe. */
export interface LabelPart {
  section: Section;
  fibres: Fibre[];
}

/** Where the yarn (or fibre, or cloth) came from; empty means that nobody has said so yet. */
export type YarnOrigin = "" | "domestic" | "imported" | "mixed" | "unknown";

/** What a label needs to know beyond kind, title and fibres. Nothing here is required. */
export interface LabelDetails {
  /** Which part the item's own fibres are; empty for the whole piece, or its body. */
  section: Section | "";
  parts: LabelPart[];
  /** How much of the surface decoration or elastic covers, in thousandths of a percent. */
  area: number;
  /** When yarns are listed, the fibres are worked out from them and none are typed. */
  yarns: LabelYarn[];
  /** What is done with fibres under the line where the law leaves a choice. */
  smallFibres: "" | "named" | "lumped";
  nameOrnament: boolean;
  animalParts: boolean;
  cottonWarpLinenWeft: boolean;
  finishes: Finish[];
  white: boolean;
  care: LabelCare;
  origin: { craft: Craft | ""; materials: YarnOrigin; madeAbroadIn: string };
  /** Answers to the caution questions of the kind, by their codes. */
  answers: Record<string, string>;
  cloth: Cloth | null;
}

/** Care chosen otherwise than worked out. Harder needs a test; who said so and when is kept. */
export interface LabelCare {
  chosen: Partial<CareLevels>;
  tested: boolean;
  testedBy?: string | undefined;
  testedAt?: string | undefined;
}

export const emptyDetails: LabelDetails = {
  section: "",
  parts: [],
  area: 0,
  yarns: [],
  smallFibres: "",
  nameOrnament: false,
  animalParts: false,
  cottonWarpLinenWeft: false,
  finishes: [],
  white: false,
  care: { chosen: {}, tested: false },
  origin: { craft: "", materials: "", madeAbroadIn: "" },
  answers: {},
  cloth: null,
};

/** Details as they are kept, with what an older entry does not have yet left empty. */
export const wholeDetails = (kept: object): LabelDetails => ({ ...emptyDetails, ...kept });
