import type { CareWords } from "../care/words.ts";
import type { Language } from "../language.ts";
import { careEnglishGb } from "./care-english-gb.ts";
import { careEnglishUs } from "./care-english-us.ts";
import { careFrench } from "./care-french.ts";
import { careGerman } from "./care-german.ts";
import { careSpanish } from "./care-spanish.ts";

export const careWords: Record<Language, CareWords> = {
  "en-US": careEnglishUs,
  "en-GB": careEnglishGb,
  fr: careFrench,
  es: careSpanish,
  de: careGerman,
};
