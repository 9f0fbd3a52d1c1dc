import { expect, test } from "vitest";
import {
  allows,
  type Deed,
  mayEnterItem,
  nextStage,
  previousStage,
  type Stage,
  stageForEntries,
  stages,
} from "../../src/rules/sale-stage.ts";

test("stages follow one another and end", () => {
  expect(stages.map(nextStage)).toEqual([...stages.slice(1), undefined]);
  expect(stages.map(previousStage)).toEqual([undefined, ...stages.slice(0, -1)]);
});

// Common practice of guild sales, no source: one column for each stage, in order.
test.each<[Deed, string]>([
  ["enter-item", ".x...."],
  ["enter-item-late", "..xx.."],
  ["allow-markdown", ".xx..."],
  ["withdraw-item", ".xxx.."],
  ["check-in", "..xx.."],
  ["give-back", "..xx.."],
  ["sell", "...x.."],
  ["refund", "...xx."],
  ["pick-up", "....x."],
  ["settle", "....x."],
  ["pay-out", "....xx"],
  ["adjust", "...xx."],
  ["keep-shifts", "xxxxx."],
  ["set-terms", "xxxxx."],
  ["edit-sale", "xxxxx."],
  ["edit-sale-rates", "xxx..."],
  ["edit-policy", "xxxxx."],
])("%s is allowed at %s", (deed, columns) => {
  expect(stages.map((stage) => (allows(stage, deed) ? "x" : ".")).join("")).toBe(columns);
});

test.each<[Stage, boolean, boolean]>([
  ["planning", false, false],
  ["entries-open", true, true],
  ["entries-closed", false, true],
  ["selling", false, true],
  ["settling", false, false],
])("while %s a member may enter: %s, the desk or chair: %s", (stage, asMember, asHelper) => {
  expect(mayEnterItem(stage, ["member", "cashier", "treasurer"])).toBe(asMember);
  expect(mayEnterItem(stage, ["desk"])).toBe(asHelper);
  expect(mayEnterItem(stage, ["member", "chair"])).toBe(asHelper);
});

test("the deadline closes open entries and changes nothing else", () => {
  expect(stages.map((stage) => stageForEntries(stage, false))).toEqual(stages);
  expect(stages.map((stage) => stageForEntries(stage, true))).toEqual([
    "planning",
    "entries-closed",
    "entries-closed",
    "selling",
    "settling",
    "closed",
  ]);
});
