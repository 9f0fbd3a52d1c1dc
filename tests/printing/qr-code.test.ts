import { describe, expect, test } from "vitest";
import { QR_MODULES, qrRows } from "../../src/printing/qr-code.ts";

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
