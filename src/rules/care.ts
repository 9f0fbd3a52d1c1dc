/** Care words a member can choose for a tag, in our own plain words; none is legal advice. */
export const careChoices = [
  { code: "hand-wash-flat", words: "Hand wash cool, dry flat" },
  { code: "hand-wash-hang", words: "Hand wash cool, hang to dry" },
  { code: "hand-wash-no-soak", words: "Hand wash cool, do not soak or wring, dry flat" },
  { code: "machine-gentle-flat", words: "Machine wash cool and gentle, dry flat" },
  { code: "machine-gentle-hang", words: "Machine wash cool and gentle, hang to dry" },
  { code: "machine-warm-tumble", words: "Machine wash warm, tumble dry low" },
  { code: "spot-clean", words: "Wipe spots with a damp cloth, do not soak" },
  { code: "shake-out", words: "Shake out, wipe spots, dry flat" },
  { code: "dry-clean", words: "Dry clean only" },
  { code: "not-for-washing", words: "Dust lightly, do not wash" },
] as const;

export type CareCode = (typeof careChoices)[number]["code"];

export const isCareCode = (code: string): code is CareCode =>
  careChoices.some((choice) => choice.code === code);

/** The words for a stored code; throws for a code that was never offered. */
export function careText(code: string): string {
  const choice = careChoices.find((one) => one.code === code);
  if (!choice) throw new RangeError(`Not a care choice: ${code}`);
  return choice.words;
}
