import fc from "fast-check";
import { expect, test } from "vitest";
import { figuresOf } from "../../../src/rules/sold/figures.ts";
import { dimensions, filtered, groupsOf } from "../../../src/rules/sold/groups.ts";
import { found, pageOfRows } from "../../../src/rules/sold/list.ts";
import { soldReport } from "../../../src/rules/sold/report.ts";
import { waitWords, withinWords } from "../../../src/rules/sold/wait.ts";
import { payNote, soldWords } from "../../../src/rules/sold/words.ts";
import { away, row, unsold } from "./support.ts";

const band = (number: number) => `Band ${number}`;

test("nothing sold gives nulls where a figure would be made up", () => {
  expect(figuresOf([unsold()])).toMatchObject({
    ...{ entered: 1, sold: 0, takings: 0, averagePrice: null, halfWithin: null },
    pay: { perHour: null, pieces: 0 },
  });
});

test("gifts count as sold and stay out of the member's money", () => {
  const gift = row({ given: true, amount: 1_235, kept: 0, left: 0 });
  const figures = figuresOf([row(), gift]);
  expect(figures).toMatchObject({ sold: 2, given: 1, givenAmount: 1_235, takings: 4_500 });
  expect(figures.averagePrice).toBe(4_500);
});

test("an hour's pay is of pieces with known hours and a settled share alone, materials taken off", () => {
  const known = row({ minutes: 90, materials: 600 });
  const stack = row({ sold: 2, amount: 4_000, kept: 800, left: 3_200, minutes: 60 });
  const open = row({ minutes: 60, settled: false, kept: 0, left: 0, open: 4_500 });
  const figures = figuresOf([known, stack, open, row()]);
  // 36.00 - 6.00 for an hour and a half, and 32.00 for two hours: 62.00 for 3.5 hours.
  expect(figures.pay).toEqual({ perHour: 1_771, pieces: 3, minutes: 210, withoutMaterials: 2 });
  expect(payNote(figures)).toContain("from 3 of 5 sold pieces");
  expect(payNote(figures)).toContain("For 2 of them no materials are noted");
});

test("half of the pieces, not of the rows, decide how soon they sold", () => {
  const early = row({ wait: 30, sold: 1 });
  const late = row({ wait: 600, sold: 5 });
  expect(figuresOf([late, early]).halfWithin).toBe(600);
  expect(figuresOf([row({ wait: 30, sold: 3 }), row({ wait: 600, sold: 3 })]).halfWithin).toBe(30);
});

test("a sale elsewhere never counts towards what sold of what was entered", () => {
  const figures = figuresOf([row(), unsold({ entered: 2 }), away({ sold: 4 })]);
  expect(figures).toMatchObject({ entered: 3, soldHere: 1, soldElsewhere: 4, sold: 5 });
  expect(soldWords(figures)).toBe("1 of 3, 4 elsewhere");
  expect(soldWords(figuresOf([away()]))).toBe("1 elsewhere");
});

test.each([
  [0, "within an hour", "0 min"],
  [60, "within an hour", "1 h"],
  [61, "within 2 hours", "1 h"],
  [2_880, "within 48 hours", "2 days"],
  [2_881, "within 3 days", "2 days"],
])("%i minutes are %s", (minutes, within, wait) => {
  expect([withinWords(minutes), waitWords(minutes)]).toEqual([within, wait]);
});

const rows = fc.array(
  fc.record({
    place: fc.constantFrom("sale:1", "sale:2", "outlet:Fair"),
    kind: fc.constantFrom("scarf", "towel", ""),
    fibre: fc.constantFrom("wool", "cotton", ""),
    colour: fc.constantFrom("red", "blue", ""),
    band: fc.nat(6),
    sold: fc.nat(5),
    amount: fc.nat(100_000),
    given: fc.boolean(),
    pace: fc.constantFrom("2h", "1d", "later", ""),
  }),
  { maxLength: 40 },
);
const made = (given: (typeof rows extends fc.Arbitrary<infer T> ? T : never)[number], at: number) =>
  row({
    ...{ key: `row-${at}`, where: given.place, whereName: given.place, entered: 5 },
    ...{ kind: given.kind, kindName: given.kind, fibre: given.fibre, colour: given.colour },
    ...{ band: given.band, sold: given.sold, amount: given.amount, given: given.given },
    ...{ pace: given.pace as "2h", description: `Piece ${at}` },
  });

test("groups of every dimension add up to the whole, and each is the sum of its own rows", () => {
  fc.assert(
    fc.property(rows, (given) => {
      const all = given.map(made);
      const whole = figuresOf(all);
      for (const dimension of dimensions) {
        const groups = groupsOf(all, dimension, band);
        for (const { key, figures } of groups)
          expect(figures).toEqual(figuresOf(filtered(all, { [dimension]: key })));
        if (dimension === "pace") continue;
        const sum = (of: "sold" | "entered" | "takings" | "kept" | "left" | "givenAmount") =>
          groups.reduce((together, { figures }) => together + figures[of], 0);
        for (const name of ["sold", "entered", "takings", "kept", "left", "givenAmount"] as const)
          expect([dimension, name, sum(name)]).toEqual([dimension, name, whole[name]]);
      }
    }),
    { numRuns: 60 },
  );
});

test("turning pages shows every row once, in order", () => {
  fc.assert(
    fc.property(rows, fc.integer({ min: 1, max: 7 }), (given, limit) => {
      const all = given.map(made);
      const seen: string[] = [];
      let after: string | undefined;
      for (let turns = 0; turns <= all.length; turns += 1) {
        const page = pageOfRows(all, { after, limit });
        seen.push(...page.items.map(({ key }) => key));
        if (page.next === null) break;
        after = page.next;
      }
      expect(seen).toEqual(all.map(({ key }) => key));
    }),
  );
});

test("words and tags find rows, every word counts", () => {
  const all = [row(), row({ key: "b", description: "Plain towel", tag: "10100262" })];
  const keys = (q: string) => found(all, {}, q).map(({ key }) => key);
  expect(keys("TOWEL plain")).toEqual(["b"]);
  expect(keys("101-002")).toEqual(["b"]);
  expect(keys("twill towel")).toEqual([]);
  expect(keys("")).toEqual(["a", "b"]);
});

test("facts name groups of three or more, the largest part sold first", () => {
  const towels = [
    ...Array.from({ length: 13 }, (_, at) =>
      row({ kind: "towel", kindName: "Towel", key: `${at}` }),
    ),
    unsold({ kind: "towel", kindName: "Towel" }),
  ];
  const shawls = [
    row({ kind: "shawl", kindName: "Shawl", entered: 3, sold: 3, wait: 4_000 }),
    unsold({ kind: "shawl", kindName: "Shawl", entered: 6 }),
    away({ kind: "shawl", kindName: "Shawl" }),
  ];
  const few = [row({ kind: "rug", kindName: "Rug" }), row({ kind: "rug", kindName: "Rug" })];
  const { facts } = soldReport([...shawls, ...few, ...towels], {}, band);
  expect(facts.kind.map(({ words }) => words)).toEqual([
    "Towel: 13 of 14 (93 %) sold, at least half of those within 2 hours",
    "Shawl: 3 of 9 sold, at least half of those within 3 days; 1 more elsewhere",
  ]);
});
