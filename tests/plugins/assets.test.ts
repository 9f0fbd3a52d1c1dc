import fastify from "fastify";
import { expect, test } from "vitest";
import { assets } from "../../src/plugins/assets.ts";

test("a built file is served under a name that changes with its content, to be kept for ever", async () => {
  const app = fastify();
  await app.register(assets);
  const address = app.asset("styles.css");
  expect(address).toMatch(/^\/assets\/styles-[A-Z0-9]{8}\.css$/);
  const answer = await app.inject(address);
  expect(answer.statusCode).toBe(200);
  expect(answer.headers["content-type"]).toBe("text/css; charset=utf-8");
  expect(answer.headers["cache-control"]).toBe("public, max-age=31536000, immutable");
  // The letters and drawings come from this site too: no page asks anybody else.
  const urls = [...answer.body.matchAll(/url\("?([^")]+)/g)].map((found) => found[1] ?? "");
  expect(urls.length).toBeGreaterThan(3);
  for (const url of urls) {
    const found = await app.inject(new URL(url, `http://here${address}`).pathname);
    expect([url, found.statusCode]).toEqual([url, 200]);
  }
  await app.close();
});

test("a file that was not built is named, and its neighbours outside the folder are not served", async () => {
  const app = fastify();
  await app.register(assets);
  expect(() => app.asset("missing.js")).toThrow("There is no built file called missing.js");
  expect(() => app.asset("constructor")).toThrow("constructor");
  for (const path of ["/assets/../assets.json", "/assets/%2e%2e/assets.json", "/assets/"]) {
    expect([path, (await app.inject(path)).statusCode]).not.toEqual([path, 200]);
  }
  await app.close();
});

test("the till's script stays small enough for a slow line", async () => {
  const app = fastify();
  await app.register(assets);
  const { body } = await app.inject(app.asset("till.js"));
  // Taking zod in by name instead of as a whole adds its forty languages: twice as much again.
  expect(body.length).toBeGreaterThan(50_000);
  expect(body.length).toBeLessThan(250_000);
  await app.close();
});
