/** Families of colours as people speak of them, in the order in which lists show them. */
export const colourFamilies = [
  ["red", "Red"],
  ["orange", "Orange and rust"],
  ["yellow", "Yellow and gold"],
  ["green", "Green"],
  ["turquoise", "Turquoise and teal"],
  ["blue", "Blue"],
  ["purple", "Purple"],
  ["pink", "Pink"],
  ["brown", "Brown and beige"],
  ["grey", "Grey"],
  ["black", "Black"],
  ["white", "White and natural"],
  ["many", "Many colours"],
] as const;

export type ColourFamily = (typeof colourFamilies)[number][0];

/** Common words for colours, our own list, without accents (no source). */
const wordsOf: Record<ColourFamily, string> = {
  red: "red scarlet crimson burgundy maroon ruby cherry madder claret brick rot rouge rojo roja rojos rojas weinrot bordeaux",
  orange:
    "orange rust copper apricot peach tangerine terracotta amber pumpkin coral kupfer naranja",
  yellow:
    "yellow gold golden straw mustard lemon ochre saffron honey buttercup weld gelb jaune amarillo amarilla dore",
  green:
    "green moss olive sage lime emerald forest fern mint pine grass leaf grun vert verte verde",
  turquoise: "turquoise teal aqua cyan petrol seafoam turkis turquesa",
  blue: "blue navy indigo denim cobalt sky azure sapphire cornflower woad blau bleu bleue azul marine",
  purple:
    "purple violet plum lilac lavender mauve aubergine eggplant amethyst heather lila purpur violeta morado",
  pink: "pink rose magenta fuchsia blush raspberry salmon rosa",
  brown:
    "brown tan beige chocolate chestnut walnut coffee camel fawn taupe oatmeal bronze mocha toffee braun brun brune marron",
  grey: "grey gray silver charcoal slate pewter ash steel grau gris argent",
  black: "black ebony jet onyx schwarz noir noire negro negra",
  white:
    "white cream ivory natural ecru bleached unbleached snow pearl undyed weiss blanc blanche blanco blanca natur naturel",
  many: "rainbow multicolour multicolor multicoloured multicolored multi variegated bunt arcoiris",
};

const familyOfWord: ReadonlyMap<string, ColourFamily> = new Map(
  colourFamilies.flatMap(([family]) =>
    wordsOf[family].split(" ").map((word) => [word, family] as const),
  ),
);

/** "greenish", "reddish" and "blues" still name their colour. */
const bare = (word: string): string[] => [word, word.replace(/s$/, ""), word.replace(/d?ish$/, "")];

/**
 * The family of the first colour that a member's words name, since that is what the piece is to
 * its maker; "many" wherever the words say so. Null when they name none that we know.
 */
export function colourFamily(text: string): ColourFamily | null {
  const words = text
    .normalize("NFD")
    .replace(/\p{M}/gu, "")
    .replaceAll("ß", "ss")
    .toLowerCase()
    .split(/[^a-z]+/);
  const named = words.flatMap((word) => {
    const known = bare(word).find((one) => familyOfWord.has(one));
    return known === undefined ? [] : [familyOfWord.get(known)!];
  });
  if (named.includes("many")) return "many";
  return named[0] ?? null;
}
