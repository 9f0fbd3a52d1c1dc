import { describe, expect, test } from "vitest";
import { checkItem, type ItemDetails, piecesText } from "../../src/rules/item.ts";
import {
  type ItemHistory,
  itemState,
  type Pieces,
  stillToCome,
} from "../../src/rules/item-state.ts";
import { emptyDetails, type LabelYarn } from "../../src/rules/labels/details.ts";
import { momentText } from "../../src/rules/moment.ts";

const rules = { priceStep: 100, priceFloor: 500, currency: "USD" };
const yarn: LabelYarn = {
  place: "warp",
  amount: { unit: "g", thousandths: 120_000 },
  number: null,
  blend: [{ fibre: "cotton", percent: 100 }],
};
const scarf: ItemDetails = {
  kind: "scarf",
  description: "Twill scarf",
  technique: "",
  fibres: [{ fibre: "wool", percent: 100 }],
  size: "",
  colours: "",
  label: emptyDetails,
  price: 4_500,
  quantity: 1,
  piecesInSet: 1,
  donated: false,
  markdown: false,
};

describe("what is wrong with an item", () => {
  test("nothing, with the least that a member must say", () => {
    expect(checkItem(scarf, rules)).toEqual([]);
  });

  test.each<[string, Partial<ItemDetails>, string]>([
    ["no description", { description: "" }, "description"],
    ["no fibres", { fibres: [] }, "fibres"],
    ["fibres that make 90", { fibres: [{ fibre: "wool", percent: 90 }] }, "fibres"],
    ["yarns and percentages", { label: { ...emptyDetails, yarns: [yarn] } }, "fibres"],
    [
      "a length without a yarn number",
      {
        fibres: [],
        label: {
          ...emptyDetails,
          yarns: [{ ...yarn, amount: { unit: "m" as const, thousandths: 9 } }],
        },
      },
      "label.yarns.0.number",
    ],
    ["no price", { price: 0 }, "price"],
    ["a price below zero", { price: -500 }, "price"],
    ["a price below the floor", { price: 400 }, "price"],
    ["a price between the steps", { price: 550 }, "price"],
    ["a fraction of a cent", { price: 500.5 }, "price"],
    ["no piece", { quantity: 0 }, "quantity"],
    ["too many pieces", { quantity: 1_000 }, "quantity"],
    ["half a piece in the set", { piecesInSet: 1.5 }, "piecesInSet"],
    ["a set of 100", { piecesInSet: 100 }, "piecesInSet"],
  ])("%s", (_words, more, field) => {
    expect(checkItem({ ...scarf, ...more }, rules).map((error) => error.field)).toEqual([field]);
  });

  test("everything is named at once, under the given prefix", () => {
    const errors = checkItem({ ...scarf, description: "", price: 0 }, rules, "items.3.");
    expect(errors.map(({ field }) => field)).toEqual(["items.3.description", "items.3.price"]);
  });
});

test.each([
  [1, 1, ""],
  [3, 1, "3 alike"],
  [1, 4, "set of 4"],
  [2, 6, "set of 6, 2 alike"],
])("%i alike of %i pieces reads as %o", (quantity, pieces, words) => {
  expect(piecesText(quantity, pieces)).toBe(words);
});

describe("the one word for an item", () => {
  const none: Pieces = {
    entered: 5,
    withMember: 0,
    onFloor: 0,
    withBuyer: 0,
    withGuild: 0,
    lost: 0,
  };
  const nothing: ItemHistory = { withdrawn: false, turnedAway: false, pickedUp: false };

  test.each<[string, Partial<Pieces>, Partial<ItemHistory>]>([
    ["entered", { withMember: 5 }, {}],
    ["turned-away", { withMember: 5 }, { turnedAway: true }],
    ["withdrawn", { withMember: 5 }, { withdrawn: true, turnedAway: true }],
    ["on-floor", { withMember: 3, onFloor: 1, withBuyer: 1 }, {}],
    ["sold", { withBuyer: 5 }, {}],
    ["sold", { withMember: 3, withBuyer: 2 }, { pickedUp: true }],
    ["with-guild", { withGuild: 5 }, {}],
    ["lost", { withMember: 4, lost: 1 }, { pickedUp: true }],
    ["home", { withMember: 5 }, { pickedUp: true }],
  ])("%s", (state, pieces, history) => {
    expect(itemState({ ...none, ...pieces }, { ...nothing, ...history })).toBe(state);
  });

  test("what is with the member can still come, unless it was withdrawn", () => {
    const pieces = { ...none, withMember: 2, onFloor: 3 };
    expect(stillToCome(pieces, nothing)).toBe(2);
    expect(stillToCome(pieces, { ...nothing, withdrawn: true })).toBe(0);
  });
});

test("a moment is shown by the guild's own clock", () => {
  const at = new Date("2026-11-27T16:42:00Z");
  expect(momentText(at, "en-US", "America/Chicago")).toMatch(/^Nov 27, 2026, 10:42\sAM$/u);
  expect(momentText(at, "en-GB", "Europe/London")).toBe("27 Nov 2026, 16:42");
});
