import { describe, expect, test } from "vitest";
import { LabelsDoNotFit, printTags, type TagOptions } from "../../src/printing/tags.ts";
import type { LabelContent } from "../../src/rules/labels/label-content.ts";
import { pagesOf, textsOf, wordsOf } from "../support/pdf.ts";
import { guild, sampleTags } from "./samples.ts";

const card = { ...guild, stock: "letter-10", startAt: 1 } as const;

async function words(tags: LabelContent[], options: TagOptions): Promise<string> {
  const [page] = await pagesOf(await printTags(tags, options));
  return wordsOf(page!);
}

describe("what a tag says", () => {
  test("has every field, with the letters of other languages", async () => {
    const [tag] = sampleTags(3).slice(2);
    const printed = await words([tag!], card);
    for (const text of [
      tag!.title,
      tag!.size!,
      tag!.fibreLines[0]!,
      tag!.careLines[0]!,
      tag!.price!,
      tag!.shownTag,
      guild.guildName,
      `${tag!.memberNumber} ${tag!.memberName}`,
    ]) {
      expect(printed).toContain(text);
    }
    expect(printed).toContain("Łukasz");
    expect(printed).toContain("½");
    expect(printed).toContain("Größe-Étoile");
  });

  test("has the member's number and no name when the guild wants none", async () => {
    const [tag] = sampleTags(1);
    expect(await words([tag!], card)).toContain(`Member ${tag!.memberNumber}`);
  });

  test("joins size and notes", async () => {
    const tag = { ...sampleTags(2)[1]!, size: "50 × 70 cm" };
    const printed = await words([tag], card);
    expect(printed).toContain("50 × 70 cm · 6 alike, price each · set of 2");
  });

  test("shortens what has no room with an ellipsis and keeps the beginning", async () => {
    const long = "A very long description of a piece ".repeat(12).trim();
    const tag = { ...sampleTags(1)[0]!, title: long };
    const printed = await words([tag], { ...card, stock: "letter-30" });
    expect(printed).toContain("A very long");
    expect(printed).toContain("…");
    expect(printed).not.toContain(long);
    expect(printed).toContain("70 % wool");
  });

  test("cuts a word that no line can hold", async () => {
    const tag = { ...sampleTags(1)[0]!, title: "W".repeat(90) };
    const [page] = await pagesOf(await printTags([tag], card));
    const longest = Math.max(...(await textsOf(page!)).map(({ width }) => width));
    expect(longest).toBeLessThan(88.9 - 4);
  });

  test("turns pasted line breaks and control marks into single spaces", async () => {
    const tag = { ...sampleTags(1)[0]!, title: "Plain\r\n\tscarf\u0007 e\u0301toile" };
    expect(await words([tag], card)).toContain("Plain scarf étoile");
  });
});

describe("printing", () => {
  test("gives the same bytes for the same input", async () => {
    const once = await printTags(sampleTags(40), card);
    const again = await printTags(sampleTags(40), card);
    expect(Buffer.from(once).equals(Buffer.from(again))).toBe(true);
    const other = await printTags(sampleTags(39), card);
    expect(Buffer.from(once).equals(Buffer.from(other))).toBe(false);
  });

  test("tells how far it is, sheet by sheet", async () => {
    const seen: number[][] = [];
    const onProgress = (printed: number, total: number) => seen.push([printed, total]);
    await printTags(sampleTags(25), { ...card, startAt: 6, onProgress });
    expect(seen).toEqual([
      [5, 25],
      [15, 25],
      [25, 25],
    ]);
  });

  test("stops when it is told to", async () => {
    const stop = new AbortController();
    const sheets: number[] = [];
    const onProgress = (printed: number) => {
      sheets.push(printed);
      if (printed >= 20) stop.abort();
    };
    const work = printTags(sampleTags(200), { ...card, onProgress, signal: stop.signal });
    await expect(work).rejects.toThrow(/abort/i);
    expect(sheets).toEqual([10, 20]);
  });

  test.each([0, 11, 1.5])("refuses to start at label %d of 10", async (startAt) => {
    await expect(printTags(sampleTags(1), { ...card, startAt })).rejects.toThrow(RangeError);
  });

  test("refuses to print nothing", async () => {
    await expect(printTags([], card)).rejects.toThrow(RangeError);
  });

  test("refuses to cut a price, even with a second label", async () => {
    const tag = { ...sampleTags(1)[0]!, price: "$1".repeat(60) };
    for (const secondStrip of [false, true]) {
      const refused = await printTags([tag], { ...card, secondStrip }).catch((error) => error);
      expect(refused).toBeInstanceOf(LabelsDoNotFit);
      expect(refused.labels).toEqual([
        { tag: tag.tag, shownTag: tag.shownTag, missing: ["price"] },
      ]);
    }
  });
});
