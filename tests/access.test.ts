import { readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { LightMyRequestResponse } from "fastify";
import { afterAll, beforeAll, expect, test } from "vitest";
import { isApi } from "../src/plugins/types.ts";
import { problem } from "../src/rules/problem.ts";
import { type Role, roles } from "../src/rules/roles.ts";
import { signedIn, startApp, type TestApp } from "./support/app.ts";
import { buildGuild, buildMember } from "./support/build.ts";

/**
 * Who may use which route, as it was last reviewed. After adding a route, run this file with
 * UPDATE_ACCESS_TABLE=1, read the difference line by line and commit it.
 */
const tableFile = join(import.meta.dirname, "access-table.json");

type Table = Record<string, "public" | "signed-in" | "till" | readonly Role[]>;

let base: TestApp;
const people = new Map<Role, { id: string }>();

beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  for (const role of roles) people.set(role, await buildMember(base.db, [role]));
});
afterAll(() => base.close());

const present = (): Table =>
  Object.fromEntries(
    base.app.routeAccess
      .filter(({ method }) => method !== "HEAD")
      .map(({ method, url, access }) => [`${method} ${url}`, access] as const)
      .sort(([a], [b]) => (a < b ? -1 : 1)),
  );

/** One route a line, as the formatter has it, so that a changed route is one changed line. */
const written = (table: Table): string => {
  const value = (access: Table[string]) => JSON.stringify(access).replaceAll(",", ", ");
  const lines = Object.entries(table).map(([route, access]) => `  "${route}": ${value(access)}`);
  return `{\n${lines.join(",\n")}\n}\n`;
};

test("every route is open to those the table names and to nobody else", async () => {
  if (process.env.UPDATE_ACCESS_TABLE) await writeFile(tableFile, written(present()));
  expect(present()).toEqual(JSON.parse(await readFile(tableFile, "utf8")));
});

const madeUp: Record<string, string> = { token: "made-up", tag: "10000132", file: "made-up" };
const pathOf = (url: string) =>
  url.replace(
    /:(\w+)/g,
    (_whole, name: string) => madeUp[name] ?? "01900000-0000-7000-8000-000000000000",
  );

const refusedTitle = problem("not-allowed", "").title;

/** Whether a request was let through, sent to the sign-in or refused for its roles. */
function verdict(answer: LightMyRequestResponse): string {
  if (answer.statusCode === 401) return "sign in";
  if (String(answer.headers.location ?? "").startsWith("/sign-in?next=")) return "sign in";
  return answer.statusCode === 403 && answer.body.includes(refusedTitle) ? "refused" : "through";
}

async function ask(route: string, role: Role | null) {
  const [method = "GET", url = "/"] = route.split(" ");
  // A sign-out among the routes ends its session, so each request has one of its own.
  const person = role && people.get(role);
  const token = person ? (await signedIn(base, person)).token : undefined;
  return base.app.inject({
    method: method as "GET" | "POST",
    url: pathOf(url),
    headers: {
      ...(token ? { authorization: `Bearer ${token}` } : {}),
      "idempotency-key": '"access-table"',
      "x-forwarded-for": "192.0.2.1",
    },
    remoteAddress: `192.0.2.${role ? roles.indexOf(role) + 10 : 9}`,
    ...(method === "GET" || !isApi(url) ? {} : { payload: {} }),
  });
}

const wantedFor = (access: Table[string], role: Role | null): string => {
  if (access === "public") return "through";
  // Nobody is a till by signing in: that takes the cookie of its device.
  if (role === null || access === "till") return "sign in";
  return access === "signed-in" || access.includes(role) ? "through" : "refused";
};

test.each([null, ...roles])("a person with the role %j meets exactly the table", async (role) => {
  const met: Record<string, string> = {};
  const wanted: Record<string, string> = {};
  const broken: string[] = [];
  for (const [route, access] of Object.entries(present())) {
    const answer = await ask(route, role);
    met[route] = verdict(answer);
    wanted[route] = wantedFor(access, role);
    if (answer.statusCode >= 500) broken.push(`${route}: ${answer.statusCode}`);
  }
  expect(met).toEqual(wanted);
  expect(broken).toEqual([]);
});

test("no route that changes something is open to the public, save those that let people in or go by a secret link", () => {
  const open = Object.entries(present())
    .filter(([route, access]) => access === "public" && !route.startsWith("GET "))
    .map(([route]) => route);
  expect(open).toEqual([
    "POST /api/session",
    "POST /api/session/refresh",
    "POST /api/till/enrolment",
    "POST /join/:token",
    "POST /letters/again/:token",
    "POST /letters/stop/:token",
    "POST /set-up/:token",
    "POST /set-up/:token/restore",
    "POST /sign-in",
  ]);
});
