import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { barChart } from "../../../src/rules/charts/bars.ts";
import { type Bar, type Chart, scaleOf } from "../../../src/rules/charts/chart.ts";
import { columnChart } from "../../../src/rules/charts/columns.ts";
import { allOf, type Drawn, numberOf, overlap, readSvg, rectBox, textBox } from "./svg-reader.ts";

const bar = (value: number, over: Partial<Bar> = {}): Bar => ({
  label: `Till ${value}`,
  value,
  shown: String(value),
  ...over,
});
const chart = (bars: Bar[], over: Partial<Chart> = {}): Chart => ({
  id: "tills",
  title: "Takings",
  description: "One bar for each till",
  bars,
  ...over,
});
const painted = (drawn: Drawn) =>
  allOf(drawn, "rect").filter(({ attributes }) => attributes.fill !== "none");
const lying = (bars: Bar[], width = 640) => readSvg(barChart(chart(bars), width));
const standing = (bars: Bar[], slot?: number) => readSvg(columnChart(chart(bars), slot));
const drawings: [string, (bars: Bar[]) => Drawn, "width" | "height"][] = [
  ["bars", (bars) => lying(bars), "width"],
  ["bars on a phone", (bars) => lying(bars, 320), "width"],
  ["columns", (bars) => standing(bars), "height"],
];

/** Where the line at nought is, and where a bar begins and ends on the same axis. */
function ends(drawn: Drawn, length: "width" | "height") {
  const [line] = allOf(drawn, "line");
  const zero = numberOf(line as Drawn, length === "width" ? "x1" : "y1");
  return painted(drawn).map((one) => {
    const box = rectBox(one);
    const [low, high] = length === "width" ? [box.left, box.right] : [box.top, box.bottom];
    return { low, high, zero };
  });
}

describe.each(drawings)("%s", (_, draw, length) => {
  test("twice as much is twice as long", () => {
    const lengths = painted(draw([bar(100), bar(50), bar(25), bar(0)])).map((one) =>
      numberOf(one, length),
    );
    const longest = lengths[0] as number;
    expect(longest).toBeGreaterThan(100);
    expect(Math.abs((lengths[1] as number) - longest / 2)).toBeLessThanOrEqual(0.5);
    expect(Math.abs((lengths[2] as number) - longest / 4)).toBeLessThanOrEqual(0.5);
    expect(lengths[3]).toBe(0);
  });

  test("a lead of one in a thousand does not look like more", () => {
    const lengths = painted(draw([bar(1000), bar(999)])).map((one) => numberOf(one, length));
    expect((lengths[0] as number) - (lengths[1] as number)).toBeLessThanOrEqual(1);
  });

  test("every bar starts at nought, goes the way of its sign and stays in the picture", () => {
    const values = fc.array(fc.oneof(fc.integer({ min: -1000, max: 1000 }), fc.maxSafeInteger()), {
      minLength: 1,
      maxLength: 12,
    });
    fc.assert(
      fc.property(values, (all) => {
        const drawn = draw(all.map((value) => bar(value, { shown: "1", label: "a" })));
        const most = numberOf(drawn, length);
        for (const [index, { low, high, zero }] of ends(drawn, length).entries()) {
          const up = (length === "width") === (all[index] as number) >= 0;
          expect(up ? low : high).toBe(zero);
          expect(low).toBeGreaterThanOrEqual(0);
          expect(high).toBeLessThanOrEqual(most);
        }
        for (const one of [...allOf(drawn, "rect"), ...allOf(drawn, "text")])
          for (const key of ["x", "y", "width", "height"])
            expect(one.attributes[key] ?? "0").toMatch(/^\d+$/);
      }),
      { numRuns: 50 },
    );
  });

  test("no letters run into each other or over a bar", () => {
    const text = fc.string({ unit: fc.constantFrom(..."abcdenorst 0123$.,"), maxLength: 30 });
    const value = fc.integer({ min: -99_999, max: 99_999 });
    const bars = fc.array(fc.tuple(text, value), { minLength: 1, maxLength: 12 });
    fc.assert(
      fc.property(bars, (rows) => {
        const drawn = draw(
          rows.map(([label, one]) => bar(one, { label, shown: `${one}.00`.slice(0, 9) })),
        );
        const texts = allOf(drawn, "text").map(textBox);
        const rects = painted(drawn)
          .map(rectBox)
          .filter((box) => box.left < box.right && box.top < box.bottom);
        const clash = texts.flatMap((one, at) =>
          [...texts.slice(at + 1), ...rects].filter((other) => overlap(one, other)),
        );
        expect(clash).toEqual([]);
        for (const one of texts) {
          expect(one.left).toBeGreaterThanOrEqual(0);
          expect(one.right).toBeLessThanOrEqual(numberOf(drawn, "width"));
        }
      }),
      { numRuns: 50 },
    );
  });

  test("each bar tells its label and value, and leads to its rows", () => {
    const drawn = draw([
      bar(5, { label: "Yarn & <fleece>", shown: "$5.00", href: "/sales/1?kind=yarn&till=2" }),
      bar(7, { label: "Rugs", shown: "$7.00" }),
    ]);
    const [link, ...others] = allOf(drawn, "a");
    expect(others).toEqual([]);
    expect(link?.attributes.href).toBe("/sales/1?kind=yarn&till=2");
    expect(link?.children[0]).toMatchObject({ name: "title", text: "Yarn & <fleece>: $5.00" });
    expect(allOf(drawn, "g")[0]?.children[0]?.text).toBe("Rugs: $7.00");
    const area = allOf(link as Drawn, "rect")[0] as Drawn;
    expect(Math.min(numberOf(area, "width"), numberOf(area, "height"))).toBeGreaterThanOrEqual(44);
    expect(area.attributes["pointer-events"]).toBe("all");
  });

  test("has a title and a description, and hides no link from a screen reader", () => {
    const drawn = draw([bar(5)]);
    expect(drawn.attributes).toMatchObject({
      role: "img",
      "aria-labelledby": "tills-title",
      "aria-describedby": "tills-desc",
    });
    expect(drawn.children[0]).toMatchObject({
      name: "title",
      attributes: { id: "tills-title" },
      text: "Takings",
    });
    expect(drawn.children[1]).toMatchObject({
      name: "desc",
      attributes: { id: "tills-desc" },
      text: "One bar for each till",
    });
    expect(draw([bar(5, { href: "#rows" })]).attributes.role).toBe("group");
  });

  test("carries no script and no style of its own", () => {
    const drawn = draw([bar(5, { label: '"><script>x</script>', shown: "' onclick='" })]);
    const walk = (one: Drawn): Drawn[] => [one, ...one.children.flatMap(walk)];
    for (const { name, attributes } of walk(drawn)) {
      expect(["svg", "title", "desc", "g", "rect", "text", "line", "path"]).toContain(name);
      expect(Object.keys(attributes).filter((key) => /^on|^style$/.test(key))).toEqual([]);
    }
  });

  test("draws nothing wrong of nothing", () => {
    expect(painted(draw([]))).toEqual([]);
    expect(painted(draw([bar(0), bar(0)])).map((one) => numberOf(one, length))).toEqual([0, 0]);
  });

  test("refuses links that leave the site and values that are not whole", () => {
    for (const href of ["https://example.org", "//example.org", "javascript:x", ""])
      expect(() => draw([bar(5, { href })])).toThrow("Not a path");
    for (const value of [0.5, Number.NaN]) expect(() => draw([bar(value)])).toThrow(RangeError);
  });
});

test("a scale with both signs needs no pixel more than its room", () => {
  const scale = scaleOf([1, -1], 101);
  expect([scale.zero, scale.length(1), scale.length(-1)]).toEqual([50, 50, -50]);
  expect(scaleOf([3, 2], 100).length(2)).toBe(67);
});

test("long values leave the bars a sixth of the width", () => {
  const long = { label: "Handwoven scarves and shawls", shown: "$123,456,789.00" };
  const drawn = lying([bar(1, long), bar(-1, long)], 320);
  const [first, second] = painted(drawn).map((one) => numberOf(one, "width"));
  expect((first as number) + (second as number)).toBeGreaterThanOrEqual(52);
  for (const box of allOf(drawn, "text").map(textBox)) {
    expect(box.left).toBeGreaterThanOrEqual(0);
    expect(box.right).toBeLessThanOrEqual(320);
  }
});

test("a bar keeps its value whole beside its end and shortens its label", () => {
  const long = "Handwoven ".repeat(9);
  const drawn = lying([bar(5, { label: long, shown: "$12,345.00" }), bar(-3)], 320);
  const texts = allOf(drawn, "text").map(({ text }) => text);
  expect(texts[0]).toMatch(/^Hand.*…$/);
  expect(texts[1]).toBe("$12,345.00");
  expect(texts[3]).toBe("-3");
});

test("columns too narrow for their values show the highest and the lowest only", () => {
  const bars = [bar(3), bar(90), bar(-40)].map((one, at) => ({
    ...one,
    shown: `$${one.value},000.00`,
    label: `${at + 9} am`,
  }));
  const texts = (slot: number) => allOf(standing(bars, slot), "text").map(({ text }) => text);
  expect(texts(48)).toEqual(["9 am", "$90,000.00", "$-40,000.00"]);
  expect(texts(140)).toHaveLength(6);
  const drawn = standing(bars, 48);
  const [, highest, lowest] = painted(drawn).map(rectBox);
  expect(allOf(drawn, "path").map(({ attributes }) => attributes.d)).toEqual([
    `M0 ${highest?.top}H144`,
    `M0 ${lowest?.bottom}H144`,
  ]);
  expect(allOf(standing(bars, 140), "path")).toEqual([]);
});

test("charts have an id that fits into a page, and room to be read", () => {
  expect(() => barChart(chart([], { id: 'x" y' }), 640)).toThrow("Not an id");
  expect(() => barChart(chart([]), 319)).toThrow("Too narrow");
  expect(() => columnChart(chart([]), 43)).toThrow("Too narrow");
});
