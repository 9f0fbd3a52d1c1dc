import { createContext, runInContext } from "node:vm";
import supertest from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { buildApp } from "../../../src/app.ts";
import { readSettings } from "../../../src/settings.ts";
import { secret, startApp, type TestApp } from "../../support/app.ts";
import { buildGuild } from "../../support/build.ts";

let base: TestApp;
beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
});
afterAll(() => base.close());

const visit = (path: string, app = base.app) => supertest(app.server).get(path);

test("the page of the till is the same for everybody and names nobody", async () => {
  const { text, headers } = await visit("/till/").expect(200);
  expect(headers["cache-control"]).toBe("no-cache");
  expect(text).toContain('<link rel="manifest" href="/till/manifest.webmanifest">');
  expect(text).not.toContain("Alder Creek");
  expect(text).not.toMatch(/_csrf/);
});

test("the list names the page and exactly the files that it uses, and each of them is there", async () => {
  const { body } = await visit("/till/shell.json").expect(200);
  expect(body).toMatchObject({ off: false, version: expect.stringMatching(/^[0-9a-f]{16}$/) });
  const names = (body.files as string[]).map((file) => file.replace(/-[0-9A-Z]{8}\./, "."));
  expect(names.toSorted()).toEqual([
    ...["/assets/band.svg", "/assets/hem.svg", "/assets/icons.svg", "/assets/styles.css"],
    ...["/assets/till-192.png", "/assets/till-512.png", "/assets/till.js", "/assets/till.svg"],
    ...["/assets/vollkorn-latin-600-normal.woff2", "/assets/vollkorn-latin-ext-600-normal.woff2"],
    ...["/till/", "/till/manifest.webmanifest"],
  ]);
  for (const file of body.files as string[]) await visit(file).expect(200);
});

test("the worker carries its list, comes fresh each time, and is a script that runs", async () => {
  const { body: list } = await visit("/till/shell.json");
  const { text, headers } = await visit("/till/service-worker.js").expect(200);
  expect(headers["content-type"]).toMatch(/^text\/javascript/);
  expect(headers["cache-control"]).toBe("no-cache");
  expect(text.startsWith(`self.tillShell=${JSON.stringify(list)};\n`)).toBe(true);
  const heard: string[] = [];
  const self = { addEventListener: (name: string) => heard.push(name) };
  runInContext(text, createContext({ self }));
  expect(heard.toSorted()).toEqual(["activate", "fetch", "install", "message"]);
});

test("the page can be installed, with icons of its own", async () => {
  const { body, headers } = await visit("/till/manifest.webmanifest")
    .buffer(true)
    .parse((response, done) => {
      let text = "";
      response.on("data", (part) => {
        text += part;
      });
      response.on("end", () => done(null, JSON.parse(text)));
    })
    .expect(200);
  expect(headers["content-type"]).toMatch(/^application\/manifest\+json/);
  expect(body).toMatchObject({ start_url: "/till/", scope: "/till/", display: "standalone" });
  expect(body.icons).toHaveLength(3);
});

test("a setting calls back what is kept on the devices", async () => {
  const app = await buildApp({
    ...{ settings: readSettings({ TILL_PAGE_KEPT: "no" }), db: base.db, secret },
  });
  await app.ready();
  expect((await app.inject("/till/shell.json")).json()).toMatchObject({ off: true });
  expect((await app.inject("/till/service-worker.js")).body).toContain('"off":true');
  await app.close();
});
