import { describe, expect, test } from "vitest";
import { checkPin, readPinHash, writePinHash } from "../../src/rules/pin.ts";

// What is weak is our own judgement: the digits that people choose first. No source.
describe("a new PIN", () => {
  test.each(["2580", "4071", "90417", "112233", "1235", "8764", "0012", "123457"])(
    "%s is good enough",
    (pin) => {
      expect(checkPin(pin)).toEqual([]);
    },
  );
  test.each([
    ["0000", "one digit"],
    ["999999", "one digit"],
    ["1212", "one pair"],
    ["90909", "one pair"],
    ["1234", "a run up"],
    ["456789", "a run up"],
    ["7890", "a run past the end"],
    ["4321", "a run down"],
    ["10987", "a run down past the end"],
  ])("%s is refused: %s", (pin) => {
    expect(checkPin(pin)).toEqual([
      { field: "pin", message: expect.stringContaining("guessed too soon") },
    ]);
  });
  test.each(["", "123", "4071829", "40a1", "４０７１", " 4071", "4071\n", "-407"])(
    "%j is not four to six digits",
    (pin) => {
      expect(checkPin(pin)).toEqual([{ field: "pin", message: "Use four to six digits." }]);
    },
  );
});

describe("a stored PIN", () => {
  const parts = { rounds: 210_000, salt: "c2FsdCBvZiAxNiBieXRlcw", key: "k".repeat(43) };
  test("is read as it was written", () => {
    expect(writePinHash(parts)).toBe(`210000$c2FsdCBvZiAxNiBieXRlcw$${"k".repeat(43)}`);
    expect(readPinHash(writePinHash(parts))).toEqual(parts);
  });
  test.each([
    "",
    "210000$$",
    `0$${parts.salt}$${parts.key}`,
    `${writePinHash(parts)}$more`,
    "1$2$3",
  ])("%j is none", (text) => {
    expect(readPinHash(text)).toBeUndefined();
  });
});
