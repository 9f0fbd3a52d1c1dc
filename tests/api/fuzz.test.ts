import fc from "fast-check";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { checkBooks } from "../../src/database/check-books.ts";
import { type Role, roles } from "../../src/rules/roles.ts";
import {
  faultOf,
  isTills,
  letsIn,
  type Operation,
  readOperations,
  requestOf,
  seed,
  send,
  times,
} from "../support/api-operations.ts";
import { signedIn, startApp, type TestApp } from "../support/app.ts";
import { buildAll } from "../support/build-all.ts";
import { contentOf } from "../support/whole-database.ts";

/**
 * Bad requests made from the OpenAPI document, for every route and every role. Whatever comes,
 * the answer is a success or a problem document, never a fault of ours.
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

/** Whoever is not let in is told so, unless the address itself was no good. */
function wrongRefusal(operation: Operation, role: Role | null, status: number) {
  if (letsIn(base, operation, role) || [400, 404].includes(status)) return undefined;
  const wanted = role === null || isTills(base, operation) ? 401 : 403;
  return status === wanted ? undefined : `answers ${status} instead of ${wanted}`;
}

/** The first request of each route that got a wrong answer. */
async function fuzz(wanted: (operation: Operation) => boolean, role: Role | null) {
  const faults: Record<string, unknown> = {};
  for (const operation of operations.filter(wanted)) {
    // A route that turns the role away before it reads anything needs few tries.
    const numRuns = (letsIn(base, operation, role) ? 8 : 2) * times;
    const sample = { seed: seed + 10 * operation.index + roles.indexOf(role ?? "member"), numRuns };
    // A session of its own for each route: one alone would meet the limit of requests a minute.
    const token = role ? (await signedIn(base, all.people[role])).token : undefined;
    for (const request of fc.sample(requestOf(operation, all.known), sample)) {
      const answer = await send(base, operation, token, request);
      const found = faultOf(answer) ?? wrongRefusal(operation, role, answer.statusCode);
      if (found) faults[`${operation.method} ${operation.path} ${found}`] ??= request;
    }
  }
  return faults;
}

/** The test itself signs people in. */
const ours = ["session"];

describe.each([null, ...roles])("as %j", { timeout: 240_000 }, (role) => {
  test("reading answers with success or a problem, and changes nothing", async () => {
    const before = await contentOf(base.db, ours);
    expect(await fuzz(({ method }) => method === "GET", role)).toEqual({});
    expect(await contentOf(base.db, ours)).toEqual(before);
  });

  test("writing answers with success or a problem, and the books stay sound", async () => {
    // A sign-out among them would end the session that all the others use.
    const writes = ({ method, path }: Operation) => method !== "GET" && path !== "/api/session";
    expect(await fuzz(writes, role)).toEqual({});
    expect(await checkBooks(base.db)).toMatchObject({ sound: true });
  });
});
