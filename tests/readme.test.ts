import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { promisify } from "node:util";
import { afterAll, beforeAll, expect, test } from "vitest";
import { hashPassphrase } from "../src/actions/passphrase.ts";
import { roles } from "../src/rules/roles.ts";
import { startApp, type TestApp } from "./support/app.ts";
import { buildGuild, buildMember } from "./support/build.ts";

const run = promisify(execFile);
const passphrase = "four warm woolly winters";
let base: TestApp;
let folder: string;
beforeAll(async () => {
  base = await startApp();
  await buildGuild(base.db);
  await buildMember(base.db, [...roles], { passphraseHash: await hashPassphrase(passphrase) });
  folder = await mkdtemp(join(tmpdir(), "thrumbook-readme-"));
});
afterAll(async () => {
  await base.close();
  await rm(folder, { recursive: true, force: true });
});

const readme = () => readFile("README.md", "utf8");

test("the README opens with the job in one paragraph", async () => {
  const [title, first] = (await readme()).split("\n\n");
  expect(title).toBe("# Thrumbook");
  expect(first).toMatch(/^A handweaver turns cloth into income/);
  expect(first).not.toContain("\n");
});

test("the README's example drives a whole sale with curl", async () => {
  const script = /## The whole sale over the API[\s\S]*?```sh\n([\s\S]*?)```/.exec(
    await readme(),
  )?.[1];
  const address = base.app.server.address();
  const port = typeof address === "object" && address ? address.port : 0;
  const env = {
    ...process.env,
    HOST: `http://127.0.0.1:${port}`,
    NUMBER: "100",
    PASSPHRASE: passphrase,
  };
  const { stdout } = await run("bash", ["-euo", "pipefail", "-c", script ?? "exit 9"], {
    cwd: folder,
    env,
  });
  expect(stdout.trim()).toBe("change 1762, owed after payment 0, books sound: true");
  for (const paper of ["tags.pdf", "statement.pdf"])
    expect((await readFile(join(folder, paper))).subarray(0, 5).toString()).toBe("%PDF-");
});

test("every setting the service reads is in the README", async () => {
  const source = await readFile("src/settings.ts", "utf8");
  const names = [...source.matchAll(/^ {2}([A-Z][A-Z_]+):/gm)].map((found) => found[1] as string);
  const text = await readme();
  expect(names.length).toBeGreaterThan(6);
  expect(names.filter((name) => !text.includes(`\`${name}\``))).toEqual([]);
});
