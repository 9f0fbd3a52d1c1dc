import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { Ajv2019 } from "ajv/dist/2019.js";
import { expect, test } from "vitest";
import { parse } from "yaml";

// The Compose Specification's own JSON schema, as the npm package dclint carries it.
const require = createRequire(import.meta.url);
const schemaFile = join(
  dirname(require.resolve("dclint/package.json")),
  "schemas/compose.schema.json",
);
const schema = JSON.parse(readFileSync(schemaFile, "utf8")) as { $schema: string };
const compose = parse(readFileSync("docker-compose.yml", "utf8")) as {
  services: Record<
    string,
    {
      healthcheck?: object;
      build?: { dockerfile_inline: string };
      environment?: Record<string, string>;
    }
  >;
};

const check = (document: unknown) => {
  const ajv = new Ajv2019({ strict: false, logger: false, validateFormats: false });
  const validate = ajv.compile({ ...schema, $schema: undefined });
  return { fits: validate(document), errors: validate.errors };
};

test("docker-compose.yml fits the Compose Specification's schema", () => {
  expect(check(compose)).toEqual({ fits: true, errors: null });
});

test("the schema would notice a misspelt key", () => {
  const { app, ...rest } = compose.services;
  expect(check({ ...compose, services: { ...rest, app: { ...app, enviroment: {} } } }).fits).toBe(
    false,
  );
});

test("the app runs on Node 24 beside PostgreSQL 18, both with a health check", () => {
  expect(compose.services.app?.build?.dockerfile_inline).toMatch(/^FROM node:24/);
  expect(compose.services.db).toMatchObject({ image: expect.stringMatching(/^postgres:18/) });
  expect(compose.services.app?.healthcheck).toBeDefined();
  expect(compose.services.db?.healthcheck).toBeDefined();
});

test("no secret has a default", () => {
  const text = JSON.stringify(compose);
  expect(text).not.toMatch(/PASSWORD:-/);
  expect(compose.services.db?.environment?.POSTGRES_PASSWORD).toMatch(/:\?/);
});
