import bwip from "bwip-js/node";
import { describe, expect, test } from "vitest";
import { QR_MODULES, qrRows } from "../../src/printing/qr-code.ts";
import { maskPenalty } from "../../src/printing/qr-mask.ts";

/** The code as the library draws it under one mask. */
function drawnByLibrary(digits: string, mask: number): string {
  const options = { eclevel: "H", version: "1", mask } as object;
  const [code] = bwip.raw("qrcode", digits, options);
  if (code === undefined || !("pixs" in code)) throw new Error("The library drew no squares.");
  return code.pixs.join("");
}

const asText = (digits: string): string =>
  qrRows(digits)
    .flat()
    .map((dark) => (dark ? "1" : "0"))
    .join("");

const numbers = Array.from({ length: 60 }, (_, index) => String(10_100_126 + index * 1_234_567));

describe("the mask of a QR code", () => {
  test("is one of the eight that the library itself draws", () => {
    for (const digits of numbers) {
      const all = [1, 2, 3, 4, 5, 6, 7, 8].map((mask) => drawnByLibrary(digits, mask));
      expect(all).toContain(asText(digits));
    }
  });

  // Three digits are one binary number, the last one or two another: every length has to be right.
  test("is one of the eight for numbers of every length", () => {
    for (let length = 1; length <= 17; length += 1) {
      const digits = "98765432101234567".slice(0, length);
      const all = [1, 2, 3, 4, 5, 6, 7, 8].map((mask) => drawnByLibrary(digits, mask));
      expect(all).toContain(asText(digits));
    }
  });

  test("is the one of the eight with the least penalty", () => {
    const penalty = (text: string) => maskPenalty(Uint8Array.from(text, Number), 21);
    for (const digits of numbers.slice(0, 20)) {
      const all = [1, 2, 3, 4, 5, 6, 7, 8].map((mask) => drawnByLibrary(digits, mask));
      expect(penalty(asText(digits))).toBe(Math.min(...all.map(penalty)));
    }
  });

  // Worked by hand: 21 lines each way of one run cost 3 + 16, 400 blocks cost 3, all dark 100.
  test("is punished by the standard's four rules", () => {
    expect(maskPenalty(new Uint8Array(441).fill(1), 21)).toBe(42 * 19 + 400 * 3 + 100);
    const chequered = Uint8Array.from({ length: 441 }, (_, at) => at % 2);
    expect(maskPenalty(chequered, 21)).toBe(0);
    const finder = chequered.map((module, at) => (at < 11 ? Number("10111010000"[at]) : module));
    expect(maskPenalty(finder, 21)).toBeGreaterThanOrEqual(40);
  });
});

describe("the squares of a tag's QR code", () => {
  // ISO/IEC 18004: version 1 has 21 × 21 modules and a finder pattern of 7 in three corners.
  test.each(["10100126", "1234000013"])("are version 1 with three finders for %s", (digits) => {
    const rows = qrRows(digits);
    expect(rows).toHaveLength(QR_MODULES);
    for (const row of rows) expect(row).toHaveLength(21);
    const finder = (x: number, y: number): string =>
      rows
        .slice(y, y + 7)
        .map((row) =>
          row
            .slice(x, x + 7)
            .map((dark) => (dark ? "#" : "."))
            .join(""),
        )
        .join("\n");
    const expected = ["#######", "#.....#", "#.###.#", "#.###.#", "#.###.#", "#.....#", "#######"];
    for (const [x, y] of [
      [0, 0],
      [14, 0],
      [0, 14],
    ] as const) {
      expect(finder(x, y)).toBe(expected.join("\n"));
    }
  });

  // The two bits of level H are 10; the format information is masked with 101010000010010
  // (ISO/IEC 18004, from memory), so its first two bits read 00.
  test("say that they have the strongest correction", () => {
    const [first, second] = [qrRows("10100126")[8]![0], qrRows("10100126")[8]![1]];
    expect([first, second]).toEqual([false, false]);
  });

  test.each(["", "12a4", "123456789012345678"])("refuse %j", (digits) => {
    expect(() => qrRows(digits)).toThrow(RangeError);
  });
});
