import fc from "fast-check";
import { afterAll, beforeAll, expect, test } from "vitest";
import { checkBooks } from "../../src/database/check-books.ts";
import {
  addressOf,
  encoded,
  faultOf,
  type Operation,
  readOperations,
  seed,
  send,
} from "../support/api-operations.ts";
import { signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildAll } from "../support/build-all.ts";
import { fitting, spoiltEverywhere, wholeSchema } from "../support/from-schema.ts";
import { nastyTexts } from "../support/nasty.ts";

/**
 * Every place of every body and query with every strange value of that place's own type: such a
 * request gets past the first check and so as far as the database. Asked by one who holds all roles.
 */
let base: TestApp;
let all: Awaited<ReturnType<typeof buildAll>>;
let operations: Operation[];

beforeAll(async () => {
  base = await startApp();
  all = await buildAll(base);
  operations = await readOperations(base);
});
afterAll(() => base.close());

const tokenOf = async () => (await signedIn(base, all.everybody)).token;

/** Addresses of rows that exist, mostly of the right kind. */
const addresses = (operation: Operation) => {
  const parameters = operation.parameters.filter((one) => one.in === "path");
  return fc
    .sample(addressOf({ ...operation, parameters }, all.known), {
      seed: seed + operation.index,
      numRuns: 30,
    })
    .filter((url) => /^[/\w.-]+$/.test(url));
};

/** A body that fits, with every field that there is. */
const bodyOf = (operation: Operation): unknown =>
  fc.sample(fitting(wholeSchema(operation.body ?? {}), all.known), {
    seed: seed + operation.index,
    numRuns: 1,
  })[0];

test("in a body", { timeout: 480_000 }, async () => {
  const faults: Record<string, unknown> = {};
  // Signing in is slow by design, and its throttle would answer for it.
  const writes = operations.filter(({ body, path }) => body && path !== "/api/session");
  expect(writes.length).toBeGreaterThan(20);
  for (const operation of writes) {
    const urls = addresses(operation);
    const token = await tokenOf();
    let turn = 0;
    for (const body of spoiltEverywhere(bodyOf(operation))) {
      turn += 1;
      const answer = await send(base, operation, token, {
        url: urls[turn % urls.length]!,
        key: `"key-${operation.index}-${turn}"`,
        sent: { type: "application/json", text: JSON.stringify(body) },
      });
      const found = faultOf(answer);
      if (found) faults[`${operation.method} ${operation.path} ${found}`] ??= body;
    }
  }
  expect(faults).toEqual({});
  expect(await checkBooks(base.db)).toMatchObject({ sound: true });
});

test("in a query", { timeout: 240_000 }, async () => {
  const faults: Record<string, unknown> = {};
  for (const operation of operations) {
    const token = await tokenOf();
    const [url = ""] = addresses(operation);
    for (const { name, in: place } of operation.parameters)
      for (const text of place === "query" ? [...nastyTexts, "4294967296", "1", "1e3"] : []) {
        const asked = { url: `${url}?${name}=${encoded(text)}`, key: "", sent: nothing };
        const found = faultOf(await send(base, operation, token, asked));
        if (found) faults[`${operation.path} ${name} ${found}`] ??= text;
      }
  }
  expect(faults).toEqual({});
});

const nothing = { type: "", text: "" };
