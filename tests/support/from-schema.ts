import fc from "fast-check";
import {
  nastyNumber,
  nastyNumbers,
  nastyText,
  nastyTexts,
  nastyValue,
  strangeField,
  withKey,
} from "./nasty.ts";

/** As much of JSON Schema as our OpenAPI document uses. */
export interface Schema {
  type?: string | string[];
  enum?: unknown[];
  const?: unknown;
  format?: string;
  pattern?: string;
  minimum?: number;
  maximum?: number;
  items?: Schema;
  properties?: Record<string, Schema>;
  required?: string[];
  anyOf?: Schema[];
}

export interface Known {
  /** Ids of rows that exist, by what they name: "sale", "till" and so on. */
  ids: Record<string, string[]>;
  /** Texts that mean something, by the name of their field. */
  texts: Record<string, string[]>;
}

/** Values that fit a schema, or fit it but for one place: only those get past the first check. */
export const fromSchema = (schema: Schema, known: Known): fc.Arbitrary<unknown> =>
  fc.oneof(
    { weight: 3, arbitrary: fitting(schema, known) },
    {
      weight: 3,
      arbitrary: fc
        .tuple(fitting(schema, known), fc.nat(), nastyOnes)
        .map(([value, place, nasty]) => spoilt(value, place, nasty)),
    },
    {
      weight: 1,
      arbitrary: fc
        .tuple(fitting(schema, known), strangeField)
        .map(([value, field]) => (isObject(value) ? withKey(value, field) : field[1])),
    },
  );

/** Ids of the kind that a name such as "tillId" asks for, and now and then of any kind. */
export function idFor(name: string, { ids }: Known): fc.Arbitrary<string> {
  const right = ids[name.replace(/Id$/, "")] ?? Object.values(ids).flat();
  return fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom(...right) },
    { weight: 1, arbitrary: fc.constantFrom(...Object.values(ids).flat()) },
    { weight: 1, arbitrary: fc.uuid({ version: 7 }) },
  );
}

export function fitting(schema: Schema, known: Known, name = ""): fc.Arbitrary<unknown> {
  const type = [schema.type].flat()[0];
  if (schema.const !== undefined) return fc.constant(schema.const);
  if (schema.enum) return fc.constantFrom(...schema.enum);
  if (schema.anyOf) return fc.oneof(...schema.anyOf.map((one) => fitting(one, known, name)));
  if (schema.properties) return object(schema, known);
  if (type === "array")
    return fc.array(fitting(schema.items ?? {}, known), { minLength: 1, maxLength: 2 });
  if (type === "integer" || type === "number") return number(schema);
  if (type === "boolean") return fc.boolean();
  if (type === "null") return fc.constant(null);
  return text(schema, known, name);
}

const texts: Record<string, string[]> = {
  date: ["2026-11-27", "2026-12-01"],
  "date-time": ["2026-11-20T12:00:00Z", "2026-11-26T12:00:00-06:00"],
  email: ["somebody@example.org", "another@example.org"],
};

function text({ format = "", pattern }: Schema, known: Known, name: string): fc.Arbitrary<string> {
  if (format === "uuid") return idFor(name, known);
  if (texts[format]) return fc.constantFrom(...texts[format]);
  if (pattern) return fc.stringMatching(new RegExp(pattern));
  return fc.constantFrom(...(known.texts[name] ?? ["Fine words", "Other words"]));
}

/** Small whole numbers are counts and versions that exist; the others are prices and rates. */
const number = ({ minimum = 0, maximum = 99_999 }: Schema): fc.Arbitrary<number> =>
  fc
    .constantFrom(1, 1, 2, 3, 500, 1_000, 4_500, 20_000)
    .map((value) => Math.max(Math.min(value, maximum), Math.max(minimum, -maximum)));

const object = ({ properties = {}, required = [] }: Schema, known: Known): fc.Arbitrary<object> =>
  fc.record(
    Object.fromEntries(
      Object.entries(properties).map(([name, schema]) => [name, fitting(schema, known, name)]),
    ),
    { requiredKeys: required.filter((name) => name in properties) },
  );

const isObject = (value: unknown): value is object =>
  typeof value === "object" && value !== null && !Array.isArray(value);

interface NastyOnes {
  text: string;
  number: number;
  any: unknown;
  /** Whether a text is replaced by a text and a number by a number: these get further. */
  sameType: boolean;
}

const nastyOnes: fc.Arbitrary<NastyOnes> = fc.record({
  text: nastyText,
  number: nastyNumber,
  any: nastyValue,
  sameType: fc.constantFrom(true, true, false),
});

/** The same value with something else in one of its places. */
function spoilt(value: unknown, place: number, nasty: NastyOnes): unknown {
  if (Array.isArray(value) && value.length > 0 && place % 5 > 0)
    return value.map((one, index) =>
      index === place % value.length ? spoilt(one, place >> 3, nasty) : one,
    );
  const key = isObject(value) && Object.keys(value)[place % Object.keys(value).length];
  if (typeof key === "string")
    return {
      ...(value as object),
      [key]: spoilt((value as Record<string, unknown>)[key], place >> 3, nasty),
    };
  if (nasty.sameType && typeof value === "string") return nasty.text;
  return nasty.sameType && typeof value === "number" ? nasty.number : nasty.any;
}

/** The schema with every field needed, so that a value of it has all of them. */
export const wholeSchema = (schema: Schema): Schema => ({
  ...schema,
  ...(schema.items ? { items: wholeSchema(schema.items) } : {}),
  ...(schema.properties
    ? {
        required: Object.keys(schema.properties),
        properties: Object.fromEntries(
          Object.entries(schema.properties).map(([name, one]) => [name, wholeSchema(one)]),
        ),
      }
    : {}),
});

/** The same value once for each of its places and each nasty value of that place's own type. */
export function* spoiltEverywhere(value: unknown): Generator<unknown> {
  if (typeof value === "string") yield* nastyTexts;
  else if (typeof value === "number") yield* nastyNumbers;
  else if (Array.isArray(value))
    for (const one of spoiltEverywhere(value[0])) yield [one, ...value.slice(1)];
  else if (isObject(value))
    for (const [key, inner] of Object.entries(value))
      for (const one of spoiltEverywhere(inner)) yield { ...value, [key]: one };
}
