import fc from "fast-check";
import type { InjectOptions, LightMyRequestResponse } from "fastify";
import type { Role } from "../../src/rules/roles.ts";
import type { TestApp } from "./app.ts";
import { fromSchema, idFor, type Known, type Schema } from "./from-schema.ts";
import { nastyText } from "./nasty.ts";

/** One operation of the OpenAPI document. */
export interface Operation {
  index: number;
  method: string;
  path: string;
  parameters: { name: string; in: string; schema: Schema }[];
  body: Schema | undefined;
}

export async function readOperations({ app }: TestApp): Promise<Operation[]> {
  const { paths } = (await app.inject("/api/openapi.json")).json() as {
    paths: Record<string, Record<string, Partial<Operation> & { requestBody?: unknown }>>;
  };
  const all = Object.entries(paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({
      method: method.toUpperCase(),
      path,
      parameters: operation.parameters ?? [],
      body: (operation.requestBody as { content: Record<string, { schema: Schema }> } | undefined)
        ?.content["application/json"]?.schema,
    })),
  );
  return all.map((operation, index) => ({ index, ...operation }));
}

/** Raw bytes that are no UTF-8 and escapes that are none come in addresses as well. */
const rawPart = fc.constantFrom("%ff", "%", "%C3%28", "%00", "..", "%2e%2e", "a".repeat(300));

export function addressOf({ path, parameters }: Operation, known: Known): fc.Arbitrary<string> {
  const parts = parameters.map((parameter) =>
    parameter.in === "path"
      ? fc.oneof(
          { weight: 12, arbitrary: named(path, parameter.name, known) },
          { weight: 1, arbitrary: nastyText.map(encoded) },
          { weight: 1, arbitrary: rawPart },
        )
      : fc.array(fromSchema(parameter.schema, known).map(encoded), { maxLength: 2 }),
  );
  return fc.tuple(...parts).map((values) => {
    const query: string[] = [];
    let address = path;
    for (const [index, { name, in: place }] of parameters.entries()) {
      const value = values[index];
      if (place === "path") address = address.replace(`{${name}}`, String(value));
      else for (const one of value as string[]) query.push(`${name}=${one}`);
    }
    return query.length === 0 ? address : `${address}?${query.join("&")}`;
  });
}

/** "/sales/{id}" wants the id of a sale, and "{tag}" a tag. */
function named(path: string, name: string, known: Known): fc.Arbitrary<string> {
  if (known.texts[name]) return fc.constantFrom(...known.texts[name]);
  const before = new RegExp(`(\\w+?)s/\\{${name}\\}`).exec(path)?.[1];
  return idFor(name === "id" ? (before ?? "") : name, known);
}

export const encoded = (value: unknown): string =>
  encodeURIComponent(
    (typeof value === "string" ? value : JSON.stringify(value)).replace(/\p{Cs}/gu, "%"),
  );

const keys = fc.oneof(
  { weight: 8, arbitrary: fc.uuid().map((id) => `"${id}"`) },
  {
    weight: 1,
    arbitrary: fc.constantFrom(
      "",
      "unquoted-key",
      '""',
      `"${"k".repeat(10_000)}"`,
      '"repeated-key"',
    ),
  },
);

/** Mostly JSON; now and then half of it, or something else altogether. */
function sentOf({ body }: Operation, known: Known): fc.Arbitrary<{ type: string; text: string }> {
  const json = fromSchema(body ?? { type: "object" }, known).map((value) => JSON.stringify(value));
  return fc.oneof(
    { weight: 10, arbitrary: json.map((text) => ({ type: "application/json", text })) },
    {
      weight: 1,
      arbitrary: json.map((text) => ({ type: "application/json", text: text.slice(0, -1) })),
    },
    {
      weight: 1,
      arbitrary: fc
        .constantFrom("text/plain", "application/x-www-form-urlencoded", "application/xml", "a/b;;")
        .map((type) => ({ type, text: "lines=1&lines=2&__proto__=3" })),
    },
  );
}

export interface Sent {
  url: string;
  key: string;
  sent: { type: string; text: string };
}

export const requestOf = (operation: Operation, known: Known): fc.Arbitrary<Sent> =>
  fc.record({ url: addressOf(operation, known), key: keys, sent: sentOf(operation, known) });

/** Sends it; requests without a session count by their address, so each route has its own. */
export const send = (
  { app }: TestApp,
  { method, body, index }: Operation,
  token: string | undefined,
  { url, key, sent }: Sent,
): Promise<LightMyRequestResponse> =>
  app.inject({
    method: method as NonNullable<InjectOptions["method"]>,
    url,
    headers: {
      ...(token ? { authorization: `Bearer ${token}` } : {}),
      ...(key === "" ? {} : { "idempotency-key": key }),
      ...(body && sent.text ? { "content-type": sent.type } : {}),
    },
    ...(body ? { payload: sent.text } : {}),
    remoteAddress: `198.51.100.${index}`,
  });

/** What is wrong with an answer whoever asked, or undefined when it is as it should be. */
export function faultOf({ statusCode, headers, body }: LightMyRequestResponse) {
  if (statusCode >= 500) return `answers ${statusCode}`;
  if (statusCode < 400) return undefined;
  if (headers["content-type"] !== "application/problem+json; charset=utf-8")
    return `refuses as ${headers["content-type"]}`;
  const problem = JSON.parse(body) as { status: number; code: string; type: string };
  const sound = problem.status === statusCode && problem.type === `/help/problems#${problem.code}`;
  return sound ? undefined : `has the problem ${body.slice(0, 200)}`;
}

/** Whether a route lets this role in; a stranger is null. */
export function letsIn({ app }: TestApp, { method, path }: Operation, role: Role | null): boolean {
  const route = app.routeAccess.find(
    (one) => one.method === method && one.url.replace(/:(\w+)/g, "{$1}") === path,
  );
  if (!route) throw new Error(`${method} ${path} is in the document only.`);
  if (route.access === "public") return true;
  if (route.access === "till") return false;
  return role !== null && (route.access === "signed-in" || route.access.includes(role));
}

/** A till's own routes know devices and no people: whoever is signed in is a stranger to them. */
export const isTills = ({ app }: TestApp, { method, path }: Operation): boolean =>
  app.routeAccess.some(
    (one) =>
      one.method === method && one.url.replace(/:(\w+)/g, "{$1}") === path && one.access === "till",
  );

/** Fixed, so that a run today asks what it asked yesterday; another seed asks other things. */
export const seed = Number(process.env.FUZZ_SEED ?? 2_026);
export const times = Number(process.env.FUZZ_TIMES ?? 1);
