import { expect, test } from "vitest";
import { floorProblem, floorState } from "../../src/rules/on-floor.ts";

const nowhere = {
  withdrawn: false,
  withMember: 0,
  onFloor: 0,
  withBuyer: 0,
  withGuild: 0,
  lost: 0,
};

test.each([
  [{ onFloor: 1, withBuyer: 2, withMember: 1 }, "on-floor", "already-sold"],
  [{ withBuyer: 1, withMember: 1 }, "sold", "already-sold"],
  [{ withMember: 1 }, "not-checked-in", "not-on-floor"],
  [{ withMember: 1, withdrawn: true }, "withdrawn", "not-on-floor"],
  [{ withGuild: 1 }, "with-guild", "not-on-floor"],
  [{ lost: 1 }, "lost", "not-on-floor"],
])("%o is %s", (pieces, state, problem) => {
  const found = floorState({ ...nowhere, ...pieces });
  expect(found).toBe(state);
  expect(floorProblem(found)).toBe(problem);
});
