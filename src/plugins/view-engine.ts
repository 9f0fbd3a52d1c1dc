import { readdirSync, readFileSync } from "node:fs";
import { join, relative, sep } from "node:path";
import Handlebars from "handlebars";
import { viewHelpers } from "./view-helpers.ts";

export type Render = (layout: string, template: string, data: object) => string;

/** Handlebars' own block helpers; everything else a template calls must be one of ours. */
const builtIn = ["if", "unless", "each", "with", "lookup"];

function templateFiles(folder: string): { name: string; file: string; source: string }[] {
  return readdirSync(folder, { recursive: true, encoding: "utf8" })
    .filter((file) => file.endsWith(".hbs"))
    .sort()
    .map((path) => {
      const file = join(folder, path);
      const name = relative(folder, file).split(sep).join("/").slice(0, -".hbs".length);
      return {
        name: name.replace(/^partials\//, ""),
        file: name,
        // The line end of a partial would show as a space before the next comma.
        source: readFileSync(file, "utf8").trimEnd(),
      };
    });
}

/** Fails at boot what would otherwise fail, or leak, only on the day the page is opened. */
class Checker extends Handlebars.Visitor {
  private readonly file: string;
  private readonly known: ReadonlySet<string>;

  constructor(file: string, known: ReadonlySet<string>) {
    super();
    this.file = file;
    this.known = known;
  }
  private checkPartial(name: hbs.AST.PathExpression | hbs.AST.SubExpression) {
    const called = name.type === "PathExpression" ? (name as hbs.AST.PathExpression).original : "";
    if (called === "@partial-block" || this.known.has(called)) return;
    throw new Error(`views/${this.file}.hbs calls the partial "${called}", which does not exist`);
  }
  override PartialStatement(partial: hbs.AST.PartialStatement) {
    this.checkPartial(partial.name);
    super.PartialStatement(partial);
  }
  override PartialBlockStatement(partial: hbs.AST.PartialBlockStatement) {
    this.checkPartial(partial.name);
    super.PartialBlockStatement(partial);
  }
  override MustacheStatement(mustache: hbs.AST.MustacheStatement) {
    if (!mustache.escaped) throw new Error(`views/${this.file}.hbs writes a value unescaped`);
    super.MustacheStatement(mustache);
  }
}

/** Reads, checks and compiles every template once; a page costs no file access afterwards. */
export function buildViews(folder: string, asset: (name: string) => string): Render {
  const engine = Handlebars.create();
  const helpers = viewHelpers(asset);
  engine.registerHelper(helpers);
  const options: CompileOptions = {
    // Partials see what they are handed and nothing else, so a stray name cannot leak into one.
    explicitPartialContext: true,
    // Indenting a partial would also indent the lines a person typed into a text area.
    preventIndent: true,
    knownHelpersOnly: true,
    knownHelpers: Object.fromEntries([...builtIn, ...Object.keys(helpers)].map((n) => [n, true])),
  };
  const files = templateFiles(folder);
  const known = new Set(files.map((file) => file.name));
  if (known.size !== files.length) throw new Error("Two templates in views have the same name");
  for (const { name, file, source } of files) {
    new Checker(file, known).accept(engine.parse(source));
    try {
      engine.precompile(source, options);
    } catch (error) {
      throw new Error(`views/${file}.hbs does not compile: ${String(error)}`);
    }
    engine.registerPartial(name, engine.compile(source, options));
  }
  const pages = new Map<string, HandlebarsTemplateDelegate>();
  return (layout, template, data) => {
    const key = `${layout} ${template}`;
    const found = pages.get(key);
    if (found) return found(data);
    if (!known.has(`layouts/${layout}`)) throw new Error(`There is no layout ${layout}`);
    if (!known.has(template)) throw new Error(`There is no template ${template}`);
    const whole = `{{#> layouts/${layout} this}}{{> ${template} this}}{{/layouts/${layout}}}`;
    const compiled = engine.compile(whole, options);
    pages.set(key, compiled);
    return compiled(data);
  };
}
