import { existsSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import fastifyStatic from "@fastify/static";
import fastifyPlugin from "fastify-plugin";

const built = fileURLToPath(new URL("../../.built", import.meta.url));

declare module "fastify" {
  interface FastifyInstance {
    /** The address of a built file: `asset("styles.css")` gives "/assets/styles-X4K2.css". */
    asset: (name: string) => string;
  }
}

function readManifest(): Record<string, string> {
  const file = join(built, "assets.json");
  if (!existsSync(file)) throw new Error("The browser files are not built yet: run npm run build");
  return JSON.parse(readFileSync(file, "utf8")) as Record<string, string>;
}

/** Serves the built browser files. Their names carry a content hash, so they never change. */
export const assets = fastifyPlugin(
  async (app) => {
    const manifest = readManifest();
    app.decorate("asset", (name: string) => {
      const file = Object.hasOwn(manifest, name) ? manifest[name] : undefined;
      if (file === undefined) throw new Error(`There is no built file called ${name}`);
      return `/assets/${file}`;
    });
    await app.register(fastifyStatic, {
      root: join(built, "assets"),
      prefix: "/assets/",
      decorateReply: false,
      index: false,
      immutable: true,
      maxAge: "365d",
    });
  },
  { name: "assets" },
);
