import { type Language, languages } from "./language.ts";
import { type FibreStem, fibreStems } from "./words/fibre-stems.ts";

/** A word of a text that calls a fibre to mind, as typed. */
export interface FibreWord extends FibreStem {
  word: string;
}

/** Small letters without accents, so that "Cáñamo" and "CANAMO" read alike. */
export const plainLetters = (word: string): string =>
  word.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

export const wordsIn = (text: string): string[] => text.match(/[\p{L}\p{M}]+/gu) ?? [];

export const startsLike = (word: string, stem: string): boolean => isLike(plainLetters(word), stem);

function isLike(plain: string, stem: string): boolean {
  return stem.endsWith(".") ? plain === stem.slice(0, -1) : plain.startsWith(stem);
}

/** Every fibre word in a text, in the order read; a word may call two fibres to mind. */
export function fibresNamedIn(text: string, among: readonly Language[] = languages): FibreWord[] {
  const stems = [...new Set(among.flatMap((language) => fibreStems[language]))];
  return wordsIn(text).flatMap((word) => {
    const plain = plainLetters(word);
    return stems
      .filter(({ stem }) => isLike(plain, stem))
      .map((found) => ({ ...found, word }))
      .filter(
        (one, place, all) =>
          all.findIndex((other) => other.fibres.join() === one.fibres.join()) === place,
      );
  });
}
