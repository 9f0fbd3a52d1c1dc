import { expect, test } from "vitest";
import { bankNotes } from "../../src/pages/figures/bank-notes.ts";
import { matchCards } from "../../src/rules/card-match.ts";

const friday = "2026-11-27";

test("each difference is named once, with its day and till", () => {
  const money = (amount: number) => `$${amount}`;
  const guild = { locale: "en-US", timeZone: "America/Chicago", currency: "USD", money };
  const cards = matchCards(
    [
      { day: friday, till: 1, amount: 50 },
      { day: friday, till: 2, amount: 30 },
    ],
    [
      { day: friday, till: 1, gross: 60 },
      { day: friday, till: 2, gross: 30 },
    ],
  );
  const at = new Date("2026-11-28T01:00:00Z");
  const notes = bankNotes(
    {
      drawers: [{ sessionId: "", till: 3, at, expected: 100, counted: 75, difference: -25 }],
      openTills: [2],
      inHand: [{ source: "safe", cameIn: 9, givenOut: 0, banked: 2, still: 7 }],
      cards,
      card: { recorded: 80, terminal: 90, fees: 0, clearing: -10 },
    },
    guild,
  );
  expect(notes).toEqual([
    "Till 2 is not cashed up yet.",
    expect.stringMatching(/^Till 3 was \$25 short at its cash-up of Nov 27, 2026/),
    "$7 is still in the safe.",
    "Cards of Nov 27, 2026, till 1: the terminal says $10 more than was recorded.",
  ]);
});
