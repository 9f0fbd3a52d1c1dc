import { expect, test } from "vitest";
import { colourFamilies, colourFamily } from "../../src/rules/colour-family.ts";

test.each([
  ["Moss and straw", "green"],
  ["dark Navy", "blue"],
  ["Greenish-blue", "green"],
  ["Reddish", "red"],
  ["blues", "blue"],
  ["off white", "white"],
  ["weiß und grau", "white"],
  ["Écru", "white"],
  ["türkis", "turquoise"],
  ["charcoal / silver", "grey"],
  ["blue with a rainbow border", "many"],
  ["Multi-coloured", "many"],
  ["lavender", "purple"],
  ["terracotta", "orange"],
])("%s belongs to %s", (text, family) => {
  expect(colourFamily(text)).toBe(family);
});

test.each(["", "as woven", "Redwood forestry 12", "scarlett's own"])(
  "%s names no colour that we know",
  (text) => {
    expect(colourFamily(text)).toBeNull();
  },
);

test("each family has a name of its own", () => {
  const names = colourFamilies.map(([, name]) => name);
  expect(new Set(names).size).toBe(names.length);
});
