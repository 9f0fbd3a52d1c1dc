/** What was typed, by the names of the fields. A field that came twice counts as empty. */
export type Typed = Record<string, string>;

/** As many as the contract takes, so that no tax that came by the API is lost on the page. */
const mostTaxes = 8;
const mostRules = 60;

const taxFields = ["code", "name", "rate"];
const ruleFields = ["kind", "mode", "threshold", "from", "to"];

export const taxAt = (index: number): string => `tax.components.${index}`;
export const ruleAt = (tax: string, index: number): string => `${tax}.rules.${index}`;

export const textsOf = (body: unknown): Typed =>
  Object.fromEntries(
    Object.entries((body ?? {}) as Record<string, unknown>).flatMap(([name, value]) =>
      typeof value === "string" ? [[name, value.trim()]] : [],
    ),
  );

/**
 * Moves the filled rows up to where the empty ones were, so that a fault that is named by its
 * place in the list stands beside the field that was typed.
 */
export function packed(typed: Typed): Typed {
  const rest = Object.entries(typed).filter(([name]) => !name.startsWith("tax."));
  const rows = filledTaxes(typed).flatMap((from, to) => [
    ...moved(typed, from, taxAt(to), taxFields),
    ...filledRules(typed, from).flatMap((rule, index) =>
      moved(typed, rule, ruleAt(taxAt(to), index), ruleFields),
    ),
  ]);
  return Object.fromEntries([...rest, ...rows]);
}

const moved = (typed: Typed, from: string, to: string, fields: readonly string[]) =>
  fields.map((field): [string, string] => [`${to}.${field}`, typed[`${from}.${field}`] ?? ""]);

/** Where taxes were typed. Emptying the name and the rate of a tax takes it away with its rules. */
export const filledTaxes = (typed: Typed): string[] =>
  places(mostTaxes, taxAt).filter((at) => {
    const isNew = !typed[`${at}.code`];
    return says(typed, at, ["name", "rate"]) || (isNew && filledRules(typed, at).length > 0);
  });

/** Where rules of a tax were typed; how it is taxed is always chosen, so that alone says nothing. */
export const filledRules = (typed: Typed, tax: string): string[] =>
  places(mostRules, (index) => ruleAt(tax, index)).filter((at) =>
    says(typed, at, ["kind", "threshold", "from", "to"]),
  );

const places = (most: number, place: (index: number) => string): string[] =>
  Array.from({ length: most }, (_, index) => place(index));

const says = (typed: Typed, at: string, fields: readonly string[]): boolean =>
  fields.some((field) => typed[`${at}.${field}`]);
