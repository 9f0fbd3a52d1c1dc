import fc from "fast-check";
import { expect, test } from "vitest";
import { type MoveKind, movedOk, moveOf, moves, places } from "../../src/rules/movement.ts";

test("a move is right only between its own two places", () => {
  expect(movedOk("sold", "floor", "buyer")).toBe(true);
  expect(movedOk("sold", "member", "buyer")).toBe(false);
  expect(movedOk("returned", "buyer", "member")).toBe(false);
  expect(movedOk("stolen", "floor", "lost")).toBe(false);
  expect(movedOk("toString", "floor", "lost")).toBe(false);
});

test("a move is written with the two places it is right between", () => {
  expect(moveOf("picked-up")).toEqual({
    kind: "picked-up",
    fromPlace: "floor",
    toPlace: "member",
  });
  for (const kind of Object.keys(moves) as MoveKind[]) {
    const { fromPlace, toPlace } = moveOf(kind);
    expect(movedOk(kind, fromPlace, toPlace)).toBe(true);
  }
});

test("nine pairs of places have a move, each exactly one", () => {
  const pairs = places.flatMap((from) => places.map((to) => [from, to] as const));
  const counts = pairs.map(
    ([from, to]) => Object.keys(moves).filter((kind) => movedOk(kind, from, to)).length,
  );
  expect(Math.max(...counts)).toBe(1);
  expect(counts.filter((count) => count === 1)).toHaveLength(9);
  expect(movedOk("entered", "outside", "member")).toBe(true);
  expect(
    pairs.filter(([from]) => from === "guild").some(([from, to]) => movedOk("lost", from, to)),
  ).toBe(false);
});

test("along any chain of moves the pieces in all places stay what was entered", () => {
  const kinds = fc.constantFrom(...(Object.keys(moves) as MoveKind[]));
  fc.assert(
    fc.property(fc.array(fc.tuple(kinds, fc.integer({ min: 1, max: 5 }))), (chain) => {
      const counts = new Map(places.map((place) => [place, 0]));
      let entered = 0;
      for (const [kind, quantity] of chain) {
        const { from, to } = moves[kind];
        counts.set(from, counts.get(from)! - quantity);
        counts.set(to, counts.get(to)! + quantity);
        if (kind === "entered") entered += quantity;
        if (kind === "unentered") entered -= quantity;
      }
      expect(0 - counts.get("outside")!).toBe(entered);
      expect([...counts.values()].reduce((sum, count) => sum + count, 0)).toBe(0);
    }),
  );
});
