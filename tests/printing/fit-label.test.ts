import { describe, expect, test } from "vitest";
import { fitLabel, partWords } from "../../src/printing/fit-label.ts";
import { careStockNames, stocks, tagStockNames } from "../../src/printing/stock.ts";
import { LabelsDoNotFit, printTags } from "../../src/printing/tags.ts";
import { pagesOf, wordsOf } from "../support/pdf.ts";
import { fullLabel, guild, sampleTags } from "./samples.ts";

/** Care words in two languages, more than a small sticker holds. */
const wordy = fullLabel({
  careLines: [
    "Hand wash in cool water with mild soap. Do not bleach. Do not wring. Dry flat in the shade.",
    "Laver à la main à l’eau froide. Ne pas blanchir. Ne pas tordre. Sécher à plat à l’ombre.",
  ],
});

describe("whether a label fits", () => {
  test("is yes with nothing given up where there is room", () => {
    expect(fitLabel(fullLabel(), "hang-tag")).toMatchObject({ fits: true, dropped: [] });
  });

  test("gives up technique and colours first, then size, then symbols", () => {
    const seen = ["letter-10", "a4-24", "letter-30"].map((name) => {
      const fit = fitLabel(fullLabel(), name as "letter-10");
      return fit.fits ? fit.dropped : undefined;
    });
    const order = ["details", "size", "symbols"];
    for (const dropped of seen) expect(dropped).toEqual(order.slice(0, dropped!.length));
    expect(seen[0]).toEqual([]);
    expect(seen[2]!.length).toBeGreaterThan(0);
  });

  test("never reports letters below 6 points", () => {
    for (const name of tagStockNames) {
      const fit = fitLabel(fullLabel(), name);
      if (fit.fits) expect(fit.textSize).toBeGreaterThanOrEqual(6);
    }
  });

  test("is no with the parts by name and the smallest larger stock on which it fits", () => {
    const fit = fitLabel(wordy, "letter-30");
    if (fit.fits) throw new Error("This label should be too full.");
    expect(fit.missing.length).toBeGreaterThan(0);
    for (const part of fit.missing) expect(partWords[part]).toBeTruthy();
    const suggested = fit.suggestion as "letter-10";
    expect(stocks[suggested].media.kind).toBe("sheet");
    expect(fitLabel(wordy, suggested).fits).toBe(true);
  });

  test("offers a second strip when no shipped stock is large enough", () => {
    const endless = fullLabel({ careLines: Array(40).fill("Hand wash in cool water, dry flat.") });
    expect(fitLabel(endless, "letter-30")).toMatchObject({
      fits: false,
      suggestion: "second strip",
    });
  });

  test("asks for shorter words when a figure itself has no room", () => {
    const dear = fullLabel({ price: "$1,000,000,000,000,000,000,000,000,000,000.00" });
    expect(fitLabel(dear, "roll-57")).toMatchObject({
      fits: false,
      missing: ["price"],
    });
  });

  test("is asked of care strips too", () => {
    for (const name of careStockNames) {
      expect(fitLabel(fullLabel(), name, "care-strip")).toMatchObject({ fits: true });
    }
    const long = fullLabel({ careLines: Array(20).fill("Hand wash in cool water, dry flat.") });
    expect(fitLabel(long, "care-strip")).toMatchObject({ fits: false });
  });

  test("does not depend on the guild's name or on the place on the sheet", async () => {
    const long = { ...guild, guildName: "Guild of the Very Long Shed by the River ".repeat(3) };
    for (const name of tagStockNames) {
      if (!fitLabel(fullLabel(), name).fits) continue;
      const labels = Array(30).fill(fullLabel());
      await expect(printTags(labels, { ...long, stock: name })).resolves.toBeInstanceOf(Uint8Array);
    }
  });
});

describe("printing a label that is too full", () => {
  test("is refused with every such label and what each lacks", async () => {
    const [tag, other] = sampleTags(2);
    const second = { ...wordy, tag: other!.tag, shownTag: other!.shownTag };
    const labels = [tag!, wordy, { ...tag!, careLines: [] }, second];
    const refused = await printTags(labels, { ...guild, stock: "letter-30" }).catch(
      (error) => error,
    );
    expect(refused).toBeInstanceOf(LabelsDoNotFit);
    expect(refused.name).toBe("LabelsDoNotFit");
    expect(refused.message).toContain(`${wordy.shownTag}, ${second.shownTag}.`);
    const fit = fitLabel(wordy, "letter-30");
    expect(refused.labels).toEqual(
      [wordy, second].map(({ tag: number, shownTag }) => ({
        tag: number,
        shownTag,
        missing: fit.fits ? [] : fit.missing,
      })),
    );
  });

  test("goes on to a second label with the same number when that is asked for", async () => {
    const progress: number[] = [];
    const bytes = await printTags([wordy, fullLabel()], {
      ...guild,
      stock: "roll-57",
      secondStrip: true,
      onProgress: (printed) => progress.push(printed),
    });
    const pages = await Promise.all((await pagesOf(bytes)).map(wordsOf));
    expect(pages.length).toBeGreaterThan(2);
    expect(pages[0]).not.toContain("continued");
    expect(pages[1]).toContain(`${wordy.shownTag}, continued`);
    const all = pages.join(" ").replace(/\s/g, "");
    for (const line of [...wordy.careLines, wordy.originLine!, wordy.identityLine!]) {
      expect(all).toContain(line.replace(/\s/g, ""));
    }
    expect(progress.at(-1)).toBe(2);
    expect(progress[0]).toBe(0);
  });
});
