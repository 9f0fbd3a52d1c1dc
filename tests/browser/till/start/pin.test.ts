import { pbkdf2Sync } from "node:crypto";
import { expect, test } from "vitest";
import {
  afterWrong,
  noTries,
  pinFits,
  secondsToWait,
} from "../../../../src/browser/till/start/pin.ts";
import { writePinHash } from "../../../../src/rules/pin.ts";

/** As the server stores it, worked out by another implementation than the browser's. */
const stored = (pin: string, rounds = 1_000) => {
  const salt = Buffer.from("a salt of sixteen");
  const key = pbkdf2Sync(pin, salt, rounds, 32, "sha256");
  return writePinHash({
    ...{ rounds, salt: salt.toString("base64url") },
    key: key.toString("base64url"),
  });
};

test("the right PIN fits, another does not, and a hash that is none fits nobody", async () => {
  expect(await pinFits("4729", stored("4729"))).toBe(true);
  expect(await pinFits("4728", stored("4729"))).toBe(false);
  expect(await pinFits("", stored("4729"))).toBe(false);
  expect(await pinFits("4729", "no hash at all")).toBe(false);
});

test("every fifth wrong PIN waits thirty seconds, and no longer when the clock was set back", () => {
  let tries = noTries;
  for (let wrong = 0; wrong < 4; wrong += 1) tries = afterWrong(tries, 1_000);
  expect(secondsToWait(tries, 1_000)).toBe(0);
  tries = afterWrong(tries, 1_000);
  expect(secondsToWait(tries, 1_000)).toBe(30);
  expect(secondsToWait(tries, 30_500)).toBe(1);
  expect(secondsToWait(tries, 31_000)).toBe(0);
  expect(secondsToWait(tries, -9_000_000)).toBe(30);
  expect(afterWrong(tries, 40_000)).toEqual({ wrong: 1, waitUntil: 0 });
});
