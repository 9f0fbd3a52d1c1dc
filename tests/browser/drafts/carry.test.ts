import { expect, test } from "vitest";
import { carryWith } from "../../../src/browser/drafts/carry.ts";
import type { Typed } from "../../../src/browser/drafts/shelf.ts";
import { newsWords, notSavedWords } from "../../../src/browser/drafts/words.ts";

const typed: Typed = {
  ...{ id: "d1", owner: "m1", place: "one s1 ", form: "one", saleId: "s1" },
  ...{ fields: { price: "4" }, typedAt: "2026-11-01T14:03:00.000Z", version: 2, sent: false },
};

const answering = (response: Response | Error) => {
  const asked: { path: string; init: RequestInit | undefined }[] = [];
  const carry = carryWith(
    () => "token-1",
    async (path, init) => {
      asked.push({ path: String(path), init });
      if (response instanceof Error) throw response;
      return response;
    },
  );
  return { asked, carry };
};
const json = (body: object, status = 200, type = "application/json; charset=utf-8") =>
  new Response(JSON.stringify(body), { status, headers: { "content-type": type } });

test("a draft goes with the token of the page and without what only this device needs", async () => {
  const { asked, carry } = answering(json({ id: "d1", version: 3 }));
  expect(await carry.send(typed)).toEqual({ kind: "answer", body: { id: "d1", version: 3 } });
  const [{ path, init } = { path: "", init: undefined }] = asked;
  expect([path, init?.method]).toEqual(["/api/me/drafts/d1", "PUT"]);
  expect(new Headers(init?.headers).get("x-form-token")).toBe("token-1");
  expect(JSON.parse(String(init?.body))).toEqual({
    ...{ form: "one", saleId: "s1", fields: { price: "4" }, version: 2 },
    typedAt: "2026-11-01T14:03:00.000Z",
  });
});

test.each([
  ["no connection", new TypeError("failed")],
  ["a hall's sign-on page", new Response("<html>", { headers: { "content-type": "text/html" } })],
  ["an overloaded server", json({ code: "x" }, 503)],
  ["too many requests", json({ code: "too-many-tries" }, 429)],
])("%s is asked again later", async (_name, response) => {
  expect(await answering(response).carry.list()).toEqual({ kind: "silent" });
});

test("a refusal is told by its code", async () => {
  const problem = json({ code: "limit-reached" }, 409, "application/problem+json; charset=utf-8");
  const answer = await answering(problem).carry.send(typed);
  expect(answer).toEqual({ kind: "refused", code: "limit-reached" });
});

test("the words name the time and say what to do", () => {
  const at = "2026-11-01T14:03:00.000Z";
  const time = new Intl.DateTimeFormat("en-GB", { timeStyle: "short" }).format(new Date(at));
  expect(newsWords({ kind: "kept", at, here: true }, "en-GB")).toBe(
    `Kept on this device at ${time}.`,
  );
  expect(newsWords({ kind: "waiting", at, here: true }, "en-GB")).toMatch(/^No connection: kept/);
  const beside = { kind: "beside", at, otherAt: at, newer: false } as const;
  expect(newsWords(beside, "en-GB")).toContain("earlier than here");
  expect(notSavedWords).toContain("Press the button again");
});
