import { expect, test } from "vitest";
import { hasAny, isRole, roles } from "../../src/rules/roles.ts";

test("one held role among the wanted ones is enough", () => {
  expect(hasAny(["member", "desk"], ["desk", "chair"])).toBe(true);
  expect(hasAny(["member", "cashier"], ["desk", "chair"])).toBe(false);
  expect(hasAny([], ["member"])).toBe(false);
  expect(hasAny(["chair"], [])).toBe(false);
});

test("role names are a closed list", () => {
  expect(roles.every(isRole)).toBe(true);
  expect(isRole("owner")).toBe(false);
});
