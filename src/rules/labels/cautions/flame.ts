import { dividedBy, type Fraction, fraction, isLess, times } from "../../fraction.ts";
import { gramsPerPound, metresPerYard } from "../../weave/yarn-number.ts";
import { type FibreCode, familyOf } from "../fibres.ts";
import type { Group } from "../groups.ts";
import type { Caution, Outcome } from "./caution.ts";

/** A finished cloth, without fringe: whole milligrams and whole millimetres. */
export interface Cloth {
  milligrams: number;
  length: number;
  width: number;
}

export const wearables: readonly Group[] = ["apparel", "child-apparel", "sleepwear"];

export const surfaceQuestion: Caution = {
  code: "surface",
  groups: wearables,
  question: "What is the surface of the cloth like?",
  options: [
    { value: "plain", words: "Plain and closed", outcome: "fine" },
    { value: "raised", words: "Raised: brushed, napped, chenille or pile", outcome: "fine" },
    { value: "open", words: "Open: lace, net or sheer", outcome: "fine" },
  ],
  rule: {
    words:
      "Plain cloth of 2.6 oz/yd² or more, and cloth wholly of wool, acrylic, modacrylic, nylon, olefin or polyester, needs no flammability test. Other wearables may.",
    source: "16 CFR 1610.1(c) and (d); (d) from memory",
    fromMemory: true,
  },
};

/** 2.6 oz per square yard in grams per square metre: 88.15. */
const lightLine = dividedBy(
  times(fraction(26, 10), times(gramsPerPound, fraction(1, 16))),
  times(metresPerYard, metresPerYard),
);

/** Cloth weight in grams per square metre, exactly. Throws for a cloth without size or weight. */
export function clothWeight({ milligrams, length, width }: Cloth): Fraction {
  if (![milligrams, length, width].every((figure) => Number.isSafeInteger(figure) && figure > 0))
    throw new RangeError("A cloth has a weight and a size above zero");
  return fraction(BigInt(milligrams) * 1_000n, BigInt(length) * BigInt(width));
}

export const isLight = (cloth: Cloth): boolean => isLess(clothWeight(cloth), lightLine);

const exempt: readonly FibreCode[] = [
  ...(["wool", "superwash-wool", "acrylic", "modacrylic"] as const),
  ...(["nylon", "olefin", "polyester"] as const),
];

export interface FlameVerdict {
  outcome: Outcome;
  prints: boolean;
  desk: string;
}

const evidence = "Ask for test evidence, and see that the caution is on the tag.";

/** What the desk does about flame. Unmeasured cloth is never taken for heavy cloth. */
export function judgeFlame(
  surface: string,
  fibres: readonly FibreCode[],
  cloth: Cloth | undefined,
): FlameVerdict {
  const fine: FlameVerdict = { outcome: "fine", prints: false, desk: "" };
  if (fibres.length > 0 && fibres.every((code) => exempt.includes(code))) return fine;
  const cellulose = fibres.some((code) => familyOf(code) === "cellulose");
  if (surface === "raised" && cellulose)
    return { outcome: "hold", prints: true, desk: `Raised plant fibre flares up. ${evidence}` };
  if (cloth === undefined)
    return { outcome: "look", prints: false, desk: "Weigh the cloth and measure it." };
  if (!isLight(cloth) && surface === "plain") return fine;
  if (!isLight(cloth))
    return { outcome: "look", prints: false, desk: "Raised or open cloth: ask how it was tested." };
  const desk = `Cloth lighter than 2.6 oz/yd² (88 g/m2) burns fast. ${evidence}`;
  return { outcome: surface === "plain" ? "look" : "hold", prints: true, desk };
}
