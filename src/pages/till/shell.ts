import { createHash } from "node:crypto";
import type { App } from "../../plugins/types.ts";
import { readBuilt } from "./built-file.ts";

/** What the worker of the till's page keeps on the device. */
export interface ShellList {
  version: string;
  files: string[];
  off: boolean;
}

const icons = ["till.svg", "till-192.png", "till-512.png"];

/**
 * The page that is the till, for devices that the chair enrolled. It is the same for everybody and
 * says nothing about anybody: it is kept on the device, and what it shows comes from there.
 */
export async function shellPages(app: App): Promise<void> {
  const everybody = { config: { access: "public" as const } };

  app.get("/till/", everybody, async (_request, reply) =>
    reply.header("cache-control", "no-cache").page("till/shell", {
      title: "Till",
      layout: "shell",
      language: "en",
      scripts: ["till.js"],
    }),
  );

  app.get("/till/shell.json", everybody, async (_request, reply) =>
    reply.header("cache-control", "no-store").send(await shellList(app)),
  );

  app.get("/till/service-worker.js", everybody, async (_request, reply) => {
    const list = JSON.stringify(await shellList(app));
    const worker = await readBuilt(app.asset("service-worker.js"));
    return reply
      .header("cache-control", "no-cache")
      .type("text/javascript; charset=utf-8")
      .send(`self.tillShell=${list};\n${worker}`);
  });

  app.get("/till/manifest.webmanifest", everybody, async (_request, reply) =>
    reply
      .header("cache-control", "no-cache")
      .type("application/manifest+json; charset=utf-8")
      .send(JSON.stringify(manifest(app))),
  );
}

const manifest = (app: App) => ({
  name: "Till",
  short_name: "Till",
  description: "Rings up the pieces of the sale, on line and off.",
  id: "/till/",
  start_url: "/till/",
  scope: "/till/",
  display: "standalone",
  background_color: "#f1eee6",
  theme_color: "#2a3a73",
  icons: [
    { src: app.asset("till.svg"), sizes: "any", type: "image/svg+xml", purpose: "any" },
    {
      src: app.asset("till-192.png"),
      sizes: "192x192",
      type: "image/png",
      purpose: "any maskable",
    },
    {
      src: app.asset("till-512.png"),
      sizes: "512x512",
      type: "image/png",
      purpose: "any maskable",
    },
  ],
});

const lists = new WeakMap<App, Promise<ShellList>>();

/** Worked out once for each start of the server: neither page nor files change while it runs. */
function shellList(app: App): Promise<ShellList> {
  const known = lists.get(app) ?? readList(app);
  lists.set(app, known);
  return known;
}

/** The page, and every file that it or its style sheet names; the version changes with any of them. */
async function readList(app: App): Promise<ShellList> {
  const off = app.parts.settings.tillPageKept === false;
  const { body } = await app.inject("/till/");
  const styles = await readBuilt(app.asset("styles.css"));
  const named = [...body.matchAll(/(?:href|src)="(\/assets\/[^"#?]+)/g)].map((found) => found[1]!);
  const drawn = [...styles.matchAll(/url\(["']?\.?\/?([\w.-]+)["']?\)/g)].map(
    (found) => `/assets/${found[1]}`,
  );
  const files = [
    ...new Set([
      "/till/",
      "/till/manifest.webmanifest",
      ...named,
      ...drawn,
      ...icons.map(app.asset),
    ]),
  ];
  const hash = createHash("sha256").update(body).update(files.join("\n"));
  return { version: hash.digest("hex").slice(0, 16), files, off };
}
