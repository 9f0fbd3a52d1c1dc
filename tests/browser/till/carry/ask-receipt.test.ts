import { expect, test } from "vitest";
import { openAskReceipt } from "../../../../src/browser/till/carry/ask-receipt.ts";
import { askServer } from "../../../../src/browser/till/carry/server.ts";

const answered = (status: number, body: object) => async () =>
  new Response(JSON.stringify(body), { status, headers: { "content-type": "application/json" } });
const asked = (send: typeof fetch) =>
  openAskReceipt(askServer(() => ({ unsent: 0, lastNumber: 0 }), send))("2-0017");

test("the number that stands on the paper is asked for, and what is found comes whole", async () => {
  const receipt = { name: "2-0017", fact: { id: "a" }, returned: { b: 1 } };
  const paths: string[] = [];
  const answer = await asked((path) => {
    paths.push(String(path));
    return answered(200, receipt)();
  });
  expect(paths).toEqual(["/api/till/receipts/2-0017"]);
  expect(answer).toEqual({ kind: "found", receipt });
});

test("no such receipt, a device that is no till, and a server that is busy are told apart", async () => {
  expect(await asked(answered(404, { detail: "No such receipt." }))).toEqual({ kind: "none" });
  expect(await asked(answered(401, { detail: "This device is not a till." }))).toEqual({
    kind: "refused",
    words: "This device is not a till.",
  });
  expect(await asked(answered(503, {}))).toEqual({ kind: "silent" });
  expect(await asked(() => Promise.reject(new TypeError("no line")))).toEqual({ kind: "silent" });
});
