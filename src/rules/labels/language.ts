/** The languages a label can be printed in; Canada and Australia print the British spelling. */
export const languages = ["en-US", "en-GB", "fr", "es", "de"] as const;

export type Language = (typeof languages)[number];

/** One printed line, and the languages that stand in it (two beside each other in Canada). */
export interface LabelLine {
  text: string;
  languages: Language[];
}

/** Puts values in the {gaps} of a sentence. A gap without a value is a broken invariant. */
export function fill(sentence: string, values: Record<string, string>): string {
  return sentence.replace(/\{(\w+)\}/g, (_, gap: string) => {
    const value = values[gap];
    if (value === undefined) throw new RangeError(`No value for {${gap}} in: ${sentence}`);
    return value;
  });
}
