import fc from "fast-check";
import { expect, test } from "vitest";
import { openStopLink, sealStopLink } from "../../../src/actions/letters/stop-token.ts";
import { letterKinds } from "../../../src/rules/letters/kinds.ts";

const secret = "a secret of forty signs or so, for tests";
const kinds = fc.constantFrom(...letterKinds);

test("a link opens to what was sealed, is the same every time, and fits an address", () => {
  fc.assert(
    fc.property(fc.uuid(), kinds, (memberId, kind) => {
      const token = sealStopLink(secret, { memberId, kind });
      expect(openStopLink(secret, token)).toEqual({ memberId, kind });
      expect(sealStopLink(secret, { memberId, kind })).toBe(token);
      expect(token).toMatch(/^[\w-]{40,90}$/);
    }),
  );
});

test("it tells nothing: neither the member nor the kind stands in it, and no two begin alike", () => {
  const memberId = "01900000-0000-7000-8000-000000000001";
  const tokens = letterKinds.map((kind) => sealStopLink(secret, { memberId, kind }));
  for (const token of tokens) {
    const bytes = Buffer.from(token, "base64url");
    expect(bytes.includes(Buffer.from(memberId.replaceAll("-", ""), "hex"))).toBe(false);
    expect(letterKinds.some((kind) => bytes.includes(kind))).toBe(false);
  }
  expect(new Set(tokens.map((token) => token.slice(0, 16))).size).toBe(letterKinds.length);
});

test("a changed sign, another length or another secret opens nothing", () => {
  const memberId = "01900000-0000-7000-8000-000000000001";
  const token = sealStopLink(secret, { memberId, kind: "first-sold" });
  for (let place = 0; place < token.length; place += 1) {
    const other = token[place] === "A" ? "B" : "A";
    const changed = token.slice(0, place) + other + token.slice(place + 1);
    expect(openStopLink(secret, changed), String(place)).toBeUndefined();
  }
  expect(openStopLink(`${secret}x`, token)).toBeUndefined();
  for (const wrong of ["", "A", token.slice(0, -1), `${token}A`, `${token}=`, token.repeat(2)])
    expect(openStopLink(secret, wrong), wrong).toBeUndefined();
});

test("arbitrary text opens nothing", () => {
  fc.assert(
    fc.property(fc.string({ maxLength: 120 }), (text) => {
      expect(openStopLink(secret, text)).toBeUndefined();
    }),
  );
});
