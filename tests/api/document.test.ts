import { Validator } from "@seriousme/openapi-schema-validator";
import supertest from "supertest";
import { afterAll, beforeAll, expect, test } from "vitest";
import { startApp, type TestApp } from "../support/app.ts";

let base: TestApp;
beforeAll(async () => {
  base = await startApp();
});
afterAll(() => base.close());

interface Document {
  openapi: string;
  paths: Record<string, Record<string, { summary?: string; responses: object }>>;
}

const document = async () =>
  (await supertest(base.app.server).get("/api/openapi.json").expect(200)).body as Document;

// The validator holds the OpenAPI Initiative's own JSON schema for 3.1.
test("the OpenAPI document is valid 3.1 by a public validator", async () => {
  const found = await document();
  expect(found.openapi).toMatch(/^3\.1/);
  expect(await new Validator().validate(found as unknown as Record<string, unknown>)).toMatchObject(
    { valid: true },
  );
});

test("every API route is in the document, with a summary", async () => {
  const { paths } = await document();
  const routes = base.app.routeAccess.filter(
    ({ url, method }) =>
      url.startsWith("/api/") && method !== "HEAD" && url !== "/api/openapi.json",
  );
  const missing = routes.filter(({ url, method }) => {
    const path = url.replace(/:(\w+)/g, "{$1}");
    return !paths[path]?.[method.toLowerCase()]?.summary;
  });
  expect(routes.length).toBeGreaterThan(3);
  expect(missing).toEqual([]);
});

test("the readable page names every path", async () => {
  const { paths } = await document();
  const page = await supertest(base.app.server).get("/help/api").expect(200);
  for (const path of Object.keys(paths)) expect(page.text).toContain(path);
});
