import { describe, expect, test } from "vitest";
import { checkCalibration, perfect } from "../../src/printing/calibration.ts";
import { printTags } from "../../src/printing/tags.ts";
import { boxesOf, pagesOf, textsOf } from "../support/pdf.ts";
import { guild, sampleTags } from "./samples.ts";

const TENTH = 0.1;

async function printed(calibration: typeof perfect) {
  const bytes = await printTags(sampleTags(21), { ...guild, stock: "a4-21", calibration });
  const [page] = await pagesOf(bytes);
  return { boxes: await boxesOf(page!), texts: await textsOf(page!) };
}

describe("a printer that is a little off", () => {
  test.each([
    { nudgeX: 1.7, nudgeY: -2.3, scaleX: 1000, scaleY: 1000 },
    { nudgeX: 0, nudgeY: 0, scaleX: 987, scaleY: 1012 },
    { nudgeX: -0.4, nudgeY: 3, scaleX: 1004, scaleY: 993 },
  ])("is met to a tenth of a millimetre everywhere on the sheet", async (calibration) => {
    const { nudgeX, nudgeY, scaleX, scaleY } = calibration;
    const ideal = await printed(perfect);
    const moved = await printed(calibration);
    expect(moved.boxes).toHaveLength(ideal.boxes.length);
    ideal.boxes.forEach((box, index) => {
      const found = moved.boxes[index]!;
      expect(Math.abs(found.x - ((box.x * scaleX) / 1000 + nudgeX))).toBeLessThan(TENTH);
      expect(Math.abs(found.y - ((box.y * scaleY) / 1000 + nudgeY))).toBeLessThan(TENTH);
      expect(Math.abs(found.width - (box.width * scaleX) / 1000)).toBeLessThan(0.01);
      expect(Math.abs(found.height - (box.height * scaleY) / 1000)).toBeLessThan(0.01);
    });
    ideal.texts.forEach((text, index) => {
      const found = moved.texts[index]!;
      expect(found.text).toBe(text.text);
      expect(Math.abs(found.x - ((text.x * scaleX) / 1000 + nudgeX))).toBeLessThan(TENTH);
      const baseline = (text.baseline * scaleY) / 1000 + nudgeY;
      expect(Math.abs(found.baseline - baseline)).toBeLessThan(TENTH);
    });
  });

  test.each([
    ["nudgeX", 15.1],
    ["nudgeY", -20],
    ["nudgeY", Number.NaN],
    ["scaleX", 940],
    ["scaleY", 1051],
    ["scaleY", 1000.5],
  ] as const)("is refused with %s of %d", async (field, value) => {
    const calibration = { ...perfect, [field]: value };
    expect(checkCalibration(calibration).map((error) => error.field)).toEqual([field]);
    await expect(printed(calibration)).rejects.toThrow(RangeError);
  });

  test("may be as far off as a printer gets", () => {
    expect(checkCalibration({ nudgeX: -15, nudgeY: 15, scaleX: 950, scaleY: 1050 })).toEqual([]);
  });
});
