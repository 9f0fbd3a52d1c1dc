import { cpSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import fastify from "fastify";
import fastifyPlugin from "fastify-plugin";
import { afterAll, describe, expect, test } from "vitest";
import { emptyViewBase, type PageData } from "../../src/plugins/view-base.ts";
import { buildViews } from "../../src/plugins/view-engine.ts";
import { views } from "../../src/plugins/views.ts";
import { problem } from "../../src/rules/problem.ts";

const own = join(import.meta.dirname, "../../views");
const places: string[] = [];
afterAll(() => {
  for (const place of places) rmSync(place, { recursive: true });
});

/** The real layouts and partials beside one template of the test's own. */
function withTemplate(source: string): string {
  const place = mkdtempSync(join(tmpdir(), "views-"));
  places.push(place);
  for (const part of ["layouts", "partials"]) {
    cpSync(join(own, part), join(place, part), { recursive: true });
  }
  writeFileSync(join(place, "sample.hbs"), source);
  return place;
}

const namedAssets = fastifyPlugin(
  async (app) => {
    app.decorate("asset", (name: string) => `/assets/${name}`);
  },
  { name: "assets" },
);

async function get(source: string, data: PageData, status?: number) {
  const app = fastify();
  await app.register(namedAssets);
  await app.register(views, { folder: withTemplate(source) });
  app.get("/", (request, reply) => {
    request.viewBase = { ...emptyViewBase("/"), csrf: "the-token" };
    return reply.page("sample", data, status);
  });
  const answer = await app.inject("/");
  await app.close();
  return answer;
}

describe("escaping", () => {
  const everyPlace = `
    {{> field name="text" label=word hint=word prefix=word}}
    {{> text-area name="text" label=word}}
    {{> select name="text" label=word options=options}}
    {{> radios name="text" legend=word options=options}}
    {{> checkbox name="text" label=word}}
    {{> page-head title=word lead=word}}
    {{> empty title=word text=word}}
    {{> badge text=word kind=word}}
    {{> post-button action="/x" label=word about=word name="x" value=word}}
    <p data-label="{{word}}">{{word}}</p>`;
  const page = (word: string): PageData => ({
    title: word,
    word,
    options: [{ value: word, label: word, hint: word }],
    values: { text: word },
    problem: problem("invalid-input", word, [{ field: "text", message: word }]),
    notice: { kind: "warn", text: word, title: word },
  });
  /** The page with every occurrence of the escaped word, and every fresh key, taken out. */
  const frame = (html: string, word: string) =>
    html.replaceAll(word, "").replaceAll(/name="_key" value="[^"]*"/g, "");

  // Strings that become elements, attributes or expressions wherever escaping is forgotten.
  test.each([
    ["<script>alert(1)</script>", "&lt;script&gt;alert(1)&lt;/script&gt;"],
    ['"><img src=x onerror=a()>', "&quot;&gt;&lt;img src&#x3D;x onerror&#x3D;a()&gt;"],
    ["' onfocus='a()", "&#x27; onfocus&#x3D;&#x27;a()"],
    ["` onfocus=a()", "&#x60; onfocus&#x3D;a()"],
    ["</textarea></title>", "&lt;/textarea&gt;&lt;/title&gt;"],
    ["&amp;{{word}}", "&amp;amp;{{word}}"],
  ])("%s stays text everywhere", async (word, escaped) => {
    const harmless = await get(everyPlace, page("harmless"));
    const answer = await get(everyPlace, page(word));
    expect(answer.body).not.toContain(word);
    expect(answer.body.split(escaped).length).toBe(harmless.body.split("harmless").length);
    expect(frame(answer.body, escaped)).toBe(frame(harmless.body, "harmless"));
  });

  test("what was typed into a text area comes back line for line", async () => {
    const text = "first\n  second\nthird";
    const answer = await get(`<div>\n  {{> text-area name="text" label="x"}}\n</div>`, {
      title: "x",
      values: { text },
    });
    expect(answer.body).toContain(`>\n${text}</textarea>`);
  });
});

describe("a refused form", () => {
  const source = `{{> field name="price" label="Price"}}{{> field name="pass" label="Pass" type="password"}}
    {{> checkboxes name="roles" legend="Roles" options=roles}}`;
  const roles = ["desk", "till"].map((value) => ({ value, label: value, selected: true }));
  const refused = problem("invalid-input", "x", [{ field: "price", message: "Enter a price" }]);

  test("says so in the title, in the summary and at the field, and keeps what was typed", async () => {
    const values = { price: "12,5x", pass: "secret words", roles: ["till"] };
    const answer = await get(source, { title: "New item", roles, values, problem: refused }, 400);
    expect(answer.statusCode).toBe(400);
    expect(answer.headers["content-type"]).toBe("text/html; charset=utf-8");
    expect(answer.body).toContain("<title>Error: New item</title>");
    expect(answer.body).toContain('<a href="#f-price">Enter a price</a>');
    expect(answer.body).toMatch(/id="e-price".*Enter a price/);
    expect(answer.body).toMatch(/id="f-price"[^>]*value="12,5x"[^>]*aria-describedby=" ?e-price"/);
    expect(answer.body).not.toContain("secret words");
    expect(answer.body).not.toMatch(/value="desk" checked/);
    expect(answer.body).toMatch(/value="till" checked/);
  });

  test("a page without a problem has neither the prefix nor a summary", async () => {
    const answer = await get(source, { title: "New item", roles });
    expect(answer.body).toContain("<title>New item</title>");
    expect(answer.body).not.toContain("error-summary");
    expect(answer.body).toMatch(/value="desk" checked/);
  });

  test("a name from Object's prototype is no value", async () => {
    const source = `{{> field name="constructor" label="x"}}
      {{> radios name="toString" legend="x" options=options}}`;
    const answer = await get(source, {
      title: "x",
      options: [{ value: "a", label: "A", selected: true }],
      values: {},
      problem: refused,
    });
    expect(answer.body).toMatch(/id="f-constructor"[^>]*value=""/);
    expect(answer.body).not.toContain('id="e-constructor"');
    expect(answer.body).toContain('value="a" checked');
  });
});

describe("form tokens", () => {
  const key = (html: string) => /name="_key" value="([^"]+)"/.exec(html)?.[1];
  const values = { _key: "11111111-1111-4111-8111-111111111111" };

  test("each form carries the session's token and a key of its own", async () => {
    const answer = await get("{{> form-tokens}}{{> form-tokens}}", { title: "x", values });
    expect(answer.body.match(/name="_csrf" value="the-token"/g)).toHaveLength(2);
    const keys = [...answer.body.matchAll(/name="_key" value="([^"]+)"/g)].map((found) => found[1]);
    expect(new Set([...keys, values._key]).size).toBe(3);
  });

  test("the key stays the same only when the outcome is unknown", async () => {
    const again = async (code: "outcome-unknown" | "key-reused") =>
      key(
        (await get("{{> form-tokens}}", { title: "x", values, problem: problem(code, "") })).body,
      );
    expect(await again("outcome-unknown")).toBe(values._key);
    expect(await again("key-reused")).not.toBe(values._key);
  });
});

describe("at boot", () => {
  const build = (source: string) => buildViews(withTemplate(source), (name) => name);

  test("our own views compile", () => {
    expect(() => buildViews(own, (name) => name)).not.toThrow();
  });
  test("an unknown partial stops the start and names the file", () => {
    expect(() => build("{{> no-such-part}}")).toThrow(
      'views/sample.hbs calls the partial "no-such-part"',
    );
    expect(() => build("{{#if x}}{{> (concat 'a' x)}}{{/if}}")).toThrow("does not exist");
  });
  test("an unknown helper stops the start", () => {
    expect(() => build("{{shout word}}")).toThrow("views/sample.hbs does not compile");
  });
  test("an unescaped value stops the start", () => {
    expect(() => build("{{#each list}}{{{this}}}{{/each}}")).toThrow("writes a value unescaped");
    expect(() => build("{{&word}}")).toThrow("writes a value unescaped");
  });
  test("a partial sees only what it is handed", async () => {
    const answer = await get(`{{#each rows}}{{> field name="a" label="A"}}{{/each}}`, {
      title: "x",
      hint: "leaked",
      rows: [{ hint: "leaked", value: "leaked" }],
    });
    expect(answer.body).not.toContain("leaked");
  });
});
