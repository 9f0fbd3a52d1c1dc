import { describe, expect, test } from "vitest";
import { type Stage, stages } from "../../src/rules/sale-stage.ts";
import { judgeMove, type SaleFacts } from "../../src/rules/stage-move.ts";
import { backWords, stageWords } from "../../src/rules/stage-words.ts";

const nothing: SaleFacts = {
  items: 0,
  tills: 1,
  openTills: 0,
  receipts: 0,
  settlements: 0,
  unsettledLines: 0,
  unpaidStatements: 0,
};

const judge = (from: Stage, to: Stage, facts: Partial<SaleFacts> = {}, reason = "a mistake") => {
  const result = judgeMove({ from, to, reason }, { ...nothing, ...facts });
  return result.ok ? result.value : result.problem.code;
};

describe("steps of a sale", () => {
  test("with nothing in the way, exactly the neighbours can be reached", () => {
    for (const from of stages)
      for (const to of stages) {
        const distance = stages.indexOf(to) - stages.indexOf(from);
        const wanted = distance === 1 ? "forward" : distance === -1 ? "back" : "invalid-input";
        expect(judge(from, to), `${from} to ${to}`).toBe(wanted);
      }
  });

  test("only a step back wants a reason", () => {
    expect(judge("planning", "entries-open", {}, "")).toBe("forward");
    expect(judge("selling", "entries-closed", {}, "  ")).toBe("invalid-input");
  });

  test.each<[Stage, Stage, Partial<SaleFacts>]>([
    ["entries-closed", "selling", { tills: 0 }],
    ["selling", "settling", { openTills: 1 }],
    ["settling", "closed", { unsettledLines: 1 }],
    ["settling", "closed", { openTills: 1 }],
    ["settling", "closed", { unpaidStatements: 1 }],
    ["entries-open", "planning", { items: 1 }],
    ["selling", "entries-closed", { receipts: 1 }],
    ["selling", "entries-closed", { openTills: 1 }],
    ["settling", "selling", { settlements: 1 }],
  ])("%s to %s waits when %o", (from, to, facts) => {
    expect(judge(from, to, facts)).toBe("still-open");
  });

  test("what hinders one step does not hinder another", () => {
    const busy = { items: 9, receipts: 9, openTills: 2 };
    expect(judge("entries-closed", "entries-open", busy)).toBe("back");
    expect(judge("entries-closed", "selling", busy)).toBe("forward");
    expect(judge("closed", "settling", { ...busy, settlements: 1 })).toBe("back");
  });

  test("a refusal counts in plain words", () => {
    const result = judgeMove(
      { from: "selling", to: "settling", reason: "" },
      { ...nothing, openTills: 2 },
    );
    expect(result.ok ? "" : result.problem.detail).toMatch(/^2 tills are not cashed up/);
  });
});

test("every stage has its words", () => {
  expect(Object.keys(stageWords)).toEqual([...stages]);
  expect(backWords("selling")).toBe("Go back to selling");
});
