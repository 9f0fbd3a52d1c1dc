import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, normalize } from "node:path";
import { expect, test } from "vitest";

const listed = (folder: string): string[] =>
  readdirSync(folder, { recursive: true, encoding: "utf8" })
    .map((file) => join(folder, file))
    .filter((file) => /\.(ts|mjs|hbs|css|sql)$/.test(file) && !file.includes("database/generated"))
    .sort();

const read = (file: string): string => readFileSync(file, "utf8");
const sources = listed("src").filter((file) => /\.(ts|mjs)$/.test(file));
const views = listed("views");
const importsOf = (file: string): string[] => [
  ...[...read(file).matchAll(/(?:from|import) "([^"]+)"/g)].map((found) => found[1] as string),
];
const localImports = (file: string): string[] =>
  importsOf(file)
    .filter((name) => name.startsWith("."))
    .map((name) => normalize(join(dirname(file), name)));

const roomOf = (file: string): string => file.split("/")[1] as string;

/** Which room may import from which; what is not listed is not allowed. */
const arrows: Record<string, string[]> = {
  rules: [],
  contract: ["rules"],
  database: ["rules", "settings.ts"],
  actions: ["rules", "contract", "database"],
  printing: ["rules"],
  plugins: ["rules", "contract", "actions", "database", "settings.ts"],
  pages: ["rules", "contract", "actions", "database", "printing", "plugins"],
  api: ["rules", "contract", "actions", "database", "printing", "plugins"],
  jobs: ["rules", "actions", "database", "printing"],
  browser: ["rules", "contract"],
  "log.ts": ["settings.ts"],
  "secret.ts": ["settings.ts"],
  "settings.ts": [],
};
/** These put the service together and so may use anything. */
const builders = new Set(["app.ts", "server.ts", "commands"]);

test("imports run one way", () => {
  const wrong = sources.flatMap((file) => {
    const room = roomOf(file);
    if (builders.has(room)) return [];
    const allowed = new Set([room, ...(arrows[room] ?? [])]);
    return localImports(file)
      .filter((target) => target.startsWith("src/") && !allowed.has(roomOf(target)))
      .map((target) => `${file} -> ${target}`);
  });
  expect(wrong).toEqual([]);
});

test("rules and browser code know nothing of Node, and only the database room knows Prisma", () => {
  const wrong = sources.filter((file) => {
    const names = importsOf(file);
    const pure = ["rules", "contract", "browser"].includes(roomOf(file));
    const touchesNode = names.some((name) => name.startsWith("node:"));
    const touchesPrisma = names.some((name) => /prisma|generated/.test(name));
    return (pure && touchesNode) || (touchesPrisma && roomOf(file) !== "database");
  });
  expect(wrong).toEqual([]);
});

test("no file is long", () => {
  const long = [...sources, ...listed("tests").filter((file) => file.endsWith(".ts"))]
    .map((file) => ({ file, lines: read(file).split("\n").length - 1 }))
    .filter(({ file, lines }) => lines > (file.startsWith("tests") ? 300 : 250));
  expect(long).toEqual([]);
});

interface Ban {
  words: RegExp;
  why: string;
  except?: RegExp;
}

const bans: Ban[] = [
  { words: /\b(TODO|FIXME|XXX)\b/, why: "unfinished" },
  { words: /not implemented|coming soon|lorem ipsum/i, why: "unfinished" },
  { words: /parseFloat|\.toFixed\(|Math\.round\(/, why: "floating point near money" },
  { words: /QueryRawUnsafe|queryRawUnsafe|executeRawUnsafe/, why: "SQL put together from text" },
  {
    words: /Math\.random/,
    why: "not random enough to guard anything",
    except: /database\/back-off\.ts$/,
  },
  { words: /innerHTML|outerHTML|insertAdjacentHTML|document\.write/, why: "text becoming markup" },
  {
    words: /process\.env/,
    why: "settings are read in one place",
    except: /src\/settings\.ts$|commands\/build\.mjs$|bench\/child\.ts$/,
  },
  { words: /\bas any\b|: any\b/, why: "types that say nothing" },
  {
    words: /localStorage/,
    why: "nothing of ours is kept there",
    except: /src\/browser\/till|bench\/till-page\.ts$/,
  },
];

test("no banned words in src", () => {
  const found = sources.flatMap((file) =>
    bans
      .filter((ban) => ban.words.test(read(file)) && !ban.except?.test(file))
      .map((ban) => `${file}: ${ban.why}`),
  );
  expect(found).toEqual([]);
});

test("views escape everything and carry no inline style or script", () => {
  const wrong = views.filter((file) => /\{\{\{|\sstyle="|<script>|\son[a-z]+="/.test(read(file)));
  expect(wrong).toEqual([]);
});

test("every form carries its tokens", () => {
  const wrong = views.filter((file) => {
    const forms = read(file)
      .split(/<form /)
      .slice(1);
    return forms.some(
      (form) => /method="post"/.test(form) && !/form-tokens/.test(form.split("</form>")[0] ?? ""),
    );
  });
  expect(wrong).toEqual([]);
});

test("every source file is used", () => {
  const entries = [
    "src/server.ts",
    ...sources.filter((file) => /^src\/commands\/[^/]+$|^src\/browser\/[^/]+\.ts$/.test(file)),
  ];
  const seen = new Set<string>();
  const walk = (file: string): void => {
    if (seen.has(file) || !existsSync(file)) return;
    seen.add(file);
    // A bench starts another program by its file name, which is a use as well.
    const named = [...read(file).matchAll(/"(\.\/[^"]+\.ts)"/g)].map((found) => found[1] as string);
    for (const target of localImports(file)) walk(target);
    for (const name of named) walk(normalize(join(dirname(file), name)));
  };
  for (const entry of entries) walk(entry);
  expect(sources.filter((file) => !seen.has(file))).toEqual([]);
});

test("every view is shown or included by something", () => {
  const text = [...sources, ...views].map(read).join("\n");
  const unused = views
    .map((file) => file.replace(/^views\/(partials\/)?/, "").replace(/\.hbs$/, ""))
    .filter(
      (name) => !text.includes(name.startsWith("layouts/") ? name.slice("layouts/".length) : name),
    );
  expect(unused).toEqual([]);
});

test("the top level holds what it should and nothing else", () => {
  const allowed = new Set([
    ..."package.json package-lock.json tsconfig.json prisma src views tests docker-compose.yml".split(
      " ",
    ),
    ..."README.md DEVELOPERS.md CHANGELOG.md LICENSE".split(" "),
    // A tool insists on having these here.
    ..."prisma.config.ts vitest.config.ts biome.json node_modules".split(" "),
  ]);
  expect(readdirSync(".").filter((name) => !name.startsWith(".") && !allowed.has(name))).toEqual(
    [],
  );
});
