import PDFDocument from "pdfkit";
import { describe, expect, test } from "vitest";
import { openFaces } from "../../src/printing/fonts.ts";
import { shorten, wrap, wrapEvenly } from "../../src/printing/text-fit.ts";

const { regular } = openFaces(new PDFDocument());
const width = (text: string) => regular.width(text, 8);

describe("a text that is too long for its line", () => {
  test("ends with a whole word where one lies near", () => {
    const room = width("Overlay in madder and gr");
    expect(shorten(regular, "Overlay in madder and grey", 8, room)).toBe("Overlay in madder and…");
  });

  test("is cut in a word rather than leave most of the line empty", () => {
    const room = width("A Wandbehangsam");
    expect(shorten(regular, "A Wandbehangsammlung", 8, room)).toMatch(/^A Wandb.*…$/);
  });

  test("does not lose a word that ends exactly where it is cut", () => {
    const room = width("Twill scarf") + width("…");
    expect(shorten(regular, "Twill scarf in madder", 8, room)).toBe("Twill scarf…");
  });

  test("stays as it is when it fits", () => {
    expect(shorten(regular, "Twill", 8, width("Twill"))).toBe("Twill");
  });
});

describe("lines evened out", () => {
  test("leave no single word behind, in as many lines", () => {
    const text = "Woven in USA of imported yarn";
    const room = width("Woven in USA of imported");
    expect(wrap(regular, text, 8, room)).toEqual(["Woven in USA of imported", "yarn"]);
    expect(wrapEvenly(regular, text, 8, room)).toEqual(["Woven in USA of", "imported yarn"]);
  });

  test("never pass the room and keep every word in order", () => {
    const text = "Hand wash cold, separately the first times. Do not bleach. Dry flat in shade.";
    for (let room = width("separately"); room < 300; room += 7) {
      const even = wrapEvenly(regular, text, 8, room);
      expect(even.join(" ")).toBe(text);
      expect(even).toHaveLength(wrap(regular, text, 8, room).length);
      for (const line of even) expect(width(line)).toBeLessThanOrEqual(room);
    }
  });

  test("cut a word only where the whole room is too narrow for it", () => {
    const room = width("Wandbehang");
    expect(wrapEvenly(regular, "Wandbehangsammlung", 8, room)).toEqual(
      wrap(regular, "Wandbehangsammlung", 8, room),
    );
  });
});
