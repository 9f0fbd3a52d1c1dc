// Makes what is generated and never committed: the database client and the browser files.
// Plain JavaScript, because it runs before anything else is there. Does nothing when its
// sources are the same as last time.
import { spawnSync } from "node:child_process";
import { createHash } from "node:crypto";
import {
  existsSync,
  mkdirSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from "node:fs";
import { basename, join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("../..", import.meta.url));
const built = join(root, ".built");
const assets = join(built, "assets");
mkdirSync(assets, { recursive: true });

/** One hash over files and whole folders; a missing path counts as empty. */
function hashOf(paths) {
  const hash = createHash("sha256").update(process.version);
  const add = (path) => {
    if (!existsSync(path)) return;
    if (statSync(path).isDirectory()) {
      for (const name of readdirSync(path).sort()) add(join(path, name));
    } else {
      hash.update(path).update(readFileSync(path));
    }
  };
  for (const path of paths) add(join(root, path));
  return hash.digest("hex");
}

/** Runs a step unless its stamp says that the same sources were built and the result stands. */
async function step(name, sources, result, work) {
  const stamp = join(built, `${name}.stamp`);
  const hash = hashOf(["package-lock.json", "src/commands/build.mjs", ...sources]);
  if (existsSync(result) && existsSync(stamp) && readFileSync(stamp, "utf8") === hash) return;
  await work();
  writeFileSync(stamp, hash);
}

function generateClient() {
  const cli = join(root, "node_modules/prisma/build/index.js");
  const run = spawnSync(process.execPath, [cli, "generate"], {
    cwd: root,
    encoding: "utf8",
    // Generating needs no engine, yet the command downloads one unless a file is named.
    env: { ...process.env, PRISMA_SCHEMA_ENGINE_BINARY: process.execPath },
  });
  if (run.status !== 0) {
    process.stderr.write(`${run.stdout}${run.stderr}`);
    throw new Error("The database client could not be generated");
  }
}

const entryPoints = () => {
  const browser = join(root, "src/browser");
  return [
    ...readdirSync(browser).filter((name) => name.endsWith(".ts") && !name.endsWith(".d.ts")),
    "styles/styles.css",
    ...readdirSync(join(browser, "assets")).map((name) => `assets/${name}`),
  ].map((name) => join(browser, name));
};

async function bundle() {
  const { build } = await import("esbuild");
  const { metafile } = await build({
    absWorkingDir: root,
    entryPoints: entryPoints(),
    outdir: assets,
    entryNames: "[name]-[hash]",
    assetNames: "[name]-[hash]",
    bundle: true,
    format: "esm",
    minify: true,
    target: "es2022",
    loader: { ".svg": "copy", ".png": "copy", ".woff2": "file" },
    metafile: true,
    logLevel: "warning",
  });
  const manifest = {};
  for (const [file, output] of Object.entries(metafile.outputs)) {
    if (output.entryPoint) {
      manifest[basename(output.entryPoint).replace(/\.ts$/, ".js")] = basename(file);
    }
  }
  // A server that is starting must never read half a list.
  const list = join(built, "assets.json");
  writeFileSync(`${list}.new`, JSON.stringify(manifest, null, 2));
  renameSync(`${list}.new`, list);
  const made = new Set(Object.keys(metafile.outputs).map((file) => basename(file)));
  for (const name of readdirSync(assets)) if (!made.has(name)) rmSync(join(assets, name));
}

if (existsSync(join(root, "prisma/schema.prisma"))) {
  const client = join(root, "src/database/generated");
  await step("client", ["prisma/schema.prisma", "prisma.config.ts"], client, generateClient);
}
await step(
  "browser",
  ["src/browser", "src/rules", "src/contract"],
  join(built, "assets.json"),
  bundle,
);
