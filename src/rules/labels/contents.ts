import type { FibreCode } from "./fibres.ts";
import type { Language } from "./language.ts";
import type { Pack } from "./pack.ts";

export const sections = [
  "body",
  "fringe",
  "lining",
  "shell",
  "filling",
  "pile",
  "back",
  "outer-surface",
] as const;

export type Section = (typeof sections)[number];

/**
 * What a fibre does in the cloth when that matters to the law: "functional" has a clear, definite
 * purpose in a small amount; an ornament makes a visible pattern; a decoration is trim or inlay
 * measured by its area; elastic likewise; antistatic threads are there only against static.
 */
export const fibreRoles = [
  "functional",
  "ornament",
  "decoration",
  "elastic",
  "antistatic",
] as const;
export type Role = (typeof fibreRoles)[number];

export interface FibreEntry {
  fibre: FibreCode;
  /** A weight in any one unit, or thousandths of a percent; see `sharesAre`. */
  share: number | bigint;
  role?: Role;
  /** The maker's trade name of the fibre; it is printed only beside the generic name. */
  brand?: string;
  madeFrom?: "bamboo";
  /** Won back from cloth or waste rather than new. */
  reclaimed?: boolean;
}

export interface FibrePart {
  section?: Section;
  fibres: readonly FibreEntry[];
  /** Typed percentages are thousandths of a percent (40 % = 40000); weights may total anything. */
  sharesAre: "weight" | "percent";
  /** How much of the surface decoration or elastic covers, in thousandths of a percent. */
  area?: number;
  /** True when the warp is nothing but cotton and the weft nothing but linen. */
  cottonWarpLinenWeft?: boolean;
}

export interface FibreContents {
  pack: Pack;
  /** Left out: every language in which the law wants the text. */
  languages?: readonly Language[];
  kind: string;
  parts: readonly FibrePart[];
  /** Where the law leaves a choice: name fibres under the line, or lump them. */
  smallFibres?: "named" | "lumped";
  /** Prints "Exclusive of 4% Metallic Ornamentation" instead of the short form. */
  nameOrnament?: boolean;
  /** Leather, fur, horn or feather parts that are not textile. */
  animalParts?: boolean;
}
