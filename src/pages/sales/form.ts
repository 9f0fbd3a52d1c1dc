import { type SaleChange, type SaleInput, saleChange, saleShape } from "../../contract/sale.ts";
import { parseMoney, parseRate } from "../../rules/currency.ts";
import {
  type FieldError,
  ok,
  type Problem,
  problem,
  type Result,
  refuseField,
} from "../../rules/problem.ts";
import { flatTax, noTax, type TaxRules } from "../../rules/tax/tax-rules.ts";
import { instantOf } from "../../rules/zoned-time.ts";

export interface FormGuild {
  currency: string;
  timeZone: string;
}

type Typed = Record<string, string>;

/** Reads the form of a new sale: texts as typed become whole coins, rates and instants. */
export const readNewSale = (body: unknown, guild: FormGuild): Result<SaleInput> =>
  judge(body, guild, ["agreement", "taxLabel"], ({ taxRate, taxLabel, ...fields }) =>
    saleShape.safeParse({ ...fields, tax: firstTax(Number(taxRate ?? 0), String(taxLabel)) }),
  );

/** One tax on everything is what most sales begin with; its page knows the rest. */
const firstTax = (rate: number, label: string): TaxRules =>
  rate === 0 ? noTax : flatTax(rate, label.trim() || "Sales tax");

/** Reads the form of a change; every field is on the page, so all of them come back. */
export const readSaleChange = (body: unknown, guild: FormGuild): Result<SaleChange> =>
  judge(body, guild, ["version"], ({ taxRate: _onItsPage, guildRate: _inThePolicy, ...fields }) =>
    saleChange.safeParse({ ...fields, version: Number(fields.version) }),
  );

const plain = ["name", "place", "firstDay", "lastDay", "receiptFooter"];

type Judged<T> =
  | { success: true; data: T }
  | { success: false; error: { issues: { path: PropertyKey[]; message: string }[] } };

function judge<T>(
  body: unknown,
  guild: FormGuild,
  more: string[],
  shape: (fields: Record<string, unknown>) => Judged<T>,
): Result<T> {
  const typed = texts(body);
  const errors: FieldError[] = [];
  const fields: Record<string, unknown> = Object.fromEntries(
    [...plain, ...more].map((name) => [name, typed[name] ?? ""]),
  );
  for (const [name, read] of Object.entries(readers(typed, guild))) {
    if (read.ok) fields[name] = read.value;
    else errors.push(...read.problem.errors);
  }
  const judged = shape(fields);
  if (judged.success && errors.length === 0) return ok(judged.data);
  return refused(errors, judged.success ? [] : judged.error.issues);
}

/** What a reader refused names its field already; the shape would only say it is missing. */
function refused(errors: FieldError[], issues: { path: PropertyKey[]; message: string }[]) {
  const named = new Set(errors.map(({ field }) => field.split(".")[0]));
  const others = issues
    .filter(({ path }) => !named.has(String(path[0])))
    .map(({ path, message }) => ({ field: formField(path.join(".")), message }));
  const detail = "Nothing was recorded yet. What you typed is still here.";
  const inOrder = [...errors, ...others].sort((a, b) => placeOf(a.field) - placeOf(b.field));
  return { ok: false as const, problem: problem("invalid-input", detail, inOrder) };
}

/** The form of a new sale knows one tax, in two fields. */
const taxField = (path: string): string => (path.endsWith(".name") ? "taxLabel" : "taxRate");

const formField = (path: string): string =>
  path.startsWith("tax.") ? taxField(path) : (path.split(".")[0] ?? path);

/** A problem whose faults in the tax stand beside the fields of the form of a new sale. */
export const onNewForm = (refused: Problem): Problem => ({
  ...refused,
  errors: refused.errors.map(({ field, message }) => ({
    field: field.startsWith("tax.") ? taxField(field) : field,
    message,
  })),
});

/** The fields from the top of the page to its end, so that the summary reads like the page. */
const onPage = [
  "name",
  "place",
  "firstDay",
  "lastDay",
  "entryDeadline",
  "guildRate",
  "taxRate",
  "priceFloor",
  "priceStep",
  "taxLabel",
  "itemLimit",
  "kindLimits",
  "agreement",
  "receiptFooter",
];
const placeOf = (field: string): number => onPage.indexOf(field.split(".")[0] ?? "");

const texts = (body: unknown): Typed =>
  Object.fromEntries(
    Object.entries((body ?? {}) as Record<string, unknown>).filter(
      (entry): entry is [string, string] => typeof entry[1] === "string",
    ),
  );

const readers = (typed: Typed, { currency, timeZone }: FormGuild) => ({
  entryDeadline: readInstant(typed.entryDeadline ?? "", timeZone),
  guildRate: parseRate(typed.guildRate ?? "0", "guildRate"),
  taxRate: parseRate(typed.taxRate ?? "0", "taxRate"),
  priceStep: parseMoney(typed.priceStep ?? "", currency, "priceStep"),
  priceFloor: parseMoney(typed.priceFloor ?? "", currency, "priceFloor"),
  itemLimit: readLimit(typed.itemLimit ?? "", "itemLimit", 1),
  kindLimits: readKindLimits(typed),
});

function readInstant(text: string, timeZone: string): Result<string> {
  const instant = instantOf(text.trim().slice(0, 16), timeZone);
  return instant ? ok(instant) : refuseField("entryDeadline", "Give the day and time entries end.");
}

/** A limit may be left empty: then there is none. */
function readLimit(text: string, field: string, least: number): Result<number | null> {
  const trimmed = text.trim();
  if (trimmed === "") return ok(null);
  if (/^\d{1,4}$/.test(trimmed) && Number(trimmed) >= least) return ok(Number(trimmed));
  return refuseField(field, `Give a whole number from ${least} to 9999, or leave it empty.`);
}

const kindPrefix = "kindLimits.";

function readKindLimits(typed: Typed): Result<{ kindId: string; most: number }[]> {
  const limits: { kindId: string; most: number }[] = [];
  const errors: FieldError[] = [];
  for (const [field, text] of Object.entries(typed)) {
    if (!field.startsWith(kindPrefix)) continue;
    const read = readLimit(text, field, 0);
    if (!read.ok) errors.push(...read.problem.errors);
    else if (read.value !== null)
      limits.push({ kindId: field.slice(kindPrefix.length), most: read.value });
  }
  if (errors[0]) return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
  return ok(limits);
}
