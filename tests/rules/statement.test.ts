import { expect, test } from "vitest";
import { statementNotes } from "../../src/rules/statement.ts";

const plain = {
  rate: 22_500,
  net: 5_440,
  donated: 0,
  hasReturns: false,
  currency: "USD",
  locale: "en-US",
};

test("an ordinary statement explains the rate and nothing that is not there", () => {
  const notes = statementNotes(plain);
  expect(notes).toHaveLength(1);
  expect(notes[0]).toContain("22.5 %");
});

test("returns, donations and a debt are each explained with their figure", () => {
  const notes = statementNotes({ ...plain, net: -1_599, donated: 1_235, hasReturns: true });
  expect(notes).toHaveLength(4);
  expect(notes.join(" ")).toMatch(/minus.*\$12\.35.*\$15\.99 is owed to the guild/s);
});

test("nothing to pay is said", () => {
  expect(statementNotes({ ...plain, net: 0 }).at(-1)).toContain("Nothing is to be paid out");
});
