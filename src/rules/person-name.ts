/**
 * Whether two typed names are one person's: capitals, accents written in another way and spaces
 * do not make somebody else.
 */
export const sameName = (one: string, other: string): boolean => plain(one) === plain(other);

const plain = (name: string): string =>
  name.normalize("NFKC").trim().replace(/\s+/g, " ").toLocaleLowerCase("en");
