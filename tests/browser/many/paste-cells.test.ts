import { expect, test } from "vitest";
import { startCellTable } from "../../../src/browser/many/cell-table.ts";
import {
  isCells,
  pastedWords,
  placeCells,
  stepFrom,
} from "../../../src/browser/many/paste-cells.ts";

test("one word goes into its field as ever; cells and lines are spread", () => {
  expect(["Indigo", "Indigo\r\n", "", "a\tb", "a\nb"].map(isCells)).toEqual([
    false,
    false,
    false,
    true,
    true,
  ]);
});

test("cells go right and down from where somebody stands, and what has no room is counted", () => {
  const pasted = placeCells("a\tb\tc\nd\te\nf", { row: 1, column: 1 }, { rows: 3, columns: 3 });
  expect(pasted).toEqual({
    filled: [
      { row: 1, column: 1, text: "a" },
      { row: 1, column: 2, text: "b" },
      { row: 2, column: 1, text: "d" },
      { row: 2, column: 2, text: "e" },
    ],
    rowsLeft: 1,
    columnsLeft: 1,
  });
  expect(pastedWords(pasted)).toBe(
    "2 rows are filled in. There was no room for 1 more: press “More rows” and paste those again. Columns beyond the last one were left out.",
  );
});

test("keys lead to the row above and below, and not out of the table", () => {
  const from = { row: 1, column: 2 };
  expect(stepFrom("Enter", from, 3)).toEqual({ row: 2, column: 2 });
  expect(stepFrom("ArrowDown", from, 3)).toEqual({ row: 2, column: 2 });
  expect(stepFrom("ArrowUp", from, 3)).toEqual({ row: 0, column: 2 });
  expect(stepFrom("ArrowDown", from, 2)).toBeUndefined();
  expect(stepFrom("ArrowUp", { row: 0, column: 0 }, 2)).toBeUndefined();
  expect(stepFrom("a", from, 3)).toBeUndefined();
});

/** The few parts of a field that the table touches. */
class FakeField extends EventTarget {
  value = "";
  hidden = true;
  textContent: string | null = "";
  spare = true;
  focused = 0;
  focus() {
    this.focused += 1;
  }
  closest() {
    return { classList: { remove: () => (this.spare = false) } };
  }
}

function tableOf(rows: number, columns: number) {
  const fields = Array.from({ length: rows }, () =>
    Array.from({ length: columns }, () => new FakeField()),
  );
  const [said, undo, more] = [new FakeField(), new FakeField(), new FakeField()];
  startCellTable({ rows: fields, said, undo, more } as never);
  const at = (row: number, column: number) => fields[row]?.[column] as FakeField;
  const paste = (row: number, column: number, text: string) => {
    const event = Object.assign(new Event("paste", { cancelable: true }), {
      clipboardData: { getData: () => text },
    });
    at(row, column).dispatchEvent(event);
    return event.defaultPrevented;
  };
  const press = (row: number, column: number, key: string, more: object = {}) => {
    const event = Object.assign(new Event("keydown", { cancelable: true }), { key, ...more });
    at(row, column).dispatchEvent(event);
    return event.defaultPrevented;
  };
  return { at, paste, press, said, undo, more };
}

test("a paste fills the fields, says so, and can be undone", () => {
  const { at, paste, said, undo } = tableOf(3, 2);
  at(1, 0).value = "Madder";
  expect(paste(1, 0, "Indigo\t28.00\nMoss\t30.00\n")).toBe(true);
  expect([at(1, 0).value, at(1, 1).value, at(2, 0).value]).toEqual(["Indigo", "28.00", "Moss"]);
  expect([at(2, 0).spare, at(0, 0).spare]).toEqual([false, true]);
  expect([said.textContent, undo.hidden]).toEqual(["2 rows are filled in.", false]);
  undo.dispatchEvent(new Event("click"));
  expect([at(1, 0).value, at(2, 1).value, undo.hidden]).toEqual(["Madder", "", true]);
  expect(at(1, 0).focused).toBe(1);
});

test("a single word is left to the browser", () => {
  const { at, paste, undo } = tableOf(2, 2);
  expect(paste(0, 0, "Indigo")).toBe(false);
  expect([at(0, 0).value, undo.hidden]).toEqual(["", true]);
});

test("Enter never sends the form, and other keys are left alone", () => {
  const { at, press, more } = tableOf(2, 1);
  expect([press(0, 0, "Enter"), at(1, 0).focused]).toEqual([true, 1]);
  expect([press(1, 0, "Enter"), more.focused]).toEqual([true, 1]);
  expect([press(0, 0, "a"), press(1, 0, "ArrowDown")]).toEqual([false, false]);
  expect(press(0, 0, "ArrowDown", { shiftKey: true })).toBe(false);
});
