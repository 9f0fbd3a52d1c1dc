import fc from "fast-check";

/** Texts that have broken programs before: NUL, half a surrogate pair, markup, patterns, paths. */
export const nastyTexts = [
  "",
  " ",
  "\u0000",
  "a\u0000b",
  "\ud800",
  "x\udfffy",
  "\u202Eevil",
  "%",
  "%00",
  "_",
  "\\",
  "'; --",
  '"><b>',
  "../../etc",
  "__proto__",
  "constructor",
  "null",
  "-1",
  "1e999",
  "NaN",
  "0000-01-01",
  "9999-12-31",
  "0000-01-01T00:00:00Z",
  "9999-12-31T23:59:59-23:59",
  "2026-02-30",
  "01900000-0000-7000-8000-000000000000",
  "------------------------------------",
  "2026-11-27T10:00:00.000Z_------------------------------------",
  "9".repeat(18),
  "9".repeat(400),
  "é".repeat(3_000),
  "4111 1111 1111 1111",
];

export const nastyNumbers = [
  0,
  -1,
  0.5,
  -0,
  1e308,
  2_147_483_647,
  2_147_483_648,
  -2_147_483_649,
  4_294_967_296,
  Number.MAX_SAFE_INTEGER,
  999,
  1_000,
  1,
];

export const nastyText: fc.Arbitrary<string> = fc.oneof(
  fc.constantFrom(...nastyTexts),
  fc.string({ unit: "binary", maxLength: 30 }),
);

export const nastyNumber: fc.Arbitrary<number> = fc.oneof(
  fc.constantFrom(...nastyNumbers),
  fc.maxSafeInteger(),
  fc.integer({ min: -5, max: 5_000 }),
);

/** Keys that reach into prototypes when somebody copies them carelessly. */
const strangeKey = fc.constantFrom("__proto__", "constructor", "toString", "roles", "memberId", "");

/** `Object.fromEntries` makes "__proto__" a field of its own, as a JSON parser does. */
export const withKey = (object: object, [key, value]: [string, unknown]): object =>
  Object.fromEntries([...Object.entries(object), [key, value]]);

export const nastyValue: fc.Arbitrary<unknown> = fc.oneof(
  nastyText,
  nastyNumber,
  fc.constantFrom<unknown>(null, true, false, [], {}, [[[[]]]], [null], { toString: 1 }),
  fc.tuple(strangeKey, nastyText).map((pair) => withKey({}, pair)),
);

export const strangeField = fc.tuple(strangeKey, nastyValue);
