import { expect, test } from "vitest";
import { readHeader, readRoles, separatorOf } from "../../src/rules/member-list.ts";

test.each([
  ["Name", "name"],
  [" FULL NAME ", "name"],
  ["E-Mail address", "email"],
  ["Surname", "lastName"],
  ["cell", "phone"],
  ["Duties", "roles"],
  ["Loom width", undefined],
  ["", undefined],
])("the header %j means %s", (text, column) => {
  expect(readHeader(text)).toBe(column);
});

test.each([
  ["name,email\nA;B;C;D,x", ","],
  ["name;email;phone", ";"],
  ["name\temail", "\t"],
  ["name", ","],
  ["", ","],
])("the separator of %j is %j", (text, sign) => {
  expect(separatorOf(text)).toBe(sign);
});

test("roles are read in any case, number and order, each once", () => {
  expect(readRoles("Desk, cashiers and desk")).toEqual({ roles: ["desk", "cashier"] });
  expect(readRoles("  ")).toEqual({ roles: ["member"] });
  expect(readRoles("member/treasurer")).toEqual({ roles: ["member", "treasurer"] });
});

test("a word that is no role is named", () => {
  expect(readRoles("member; wizard")).toEqual({ roles: ["member"], stranger: "wizard" });
});
