import type { Minor, Rate } from "../money.ts";

/** A day of the guild's calendar as "2026-11-27"; such texts compare as days do. */
export type Day = string;

export const taxModes = ["taxable", "exempt", "exempt-under", "excess-over"] as const;
export const taxBases = ["receipt", "line"] as const;

export type TaxMode = (typeof taxModes)[number];

/**
 * How one component treats a kind of goods, or every kind ("*"). `threshold` is the price of one
 * piece that "exempt-under" and "excess-over" look at. `from` and `to` both count as inside.
 */
export interface KindRule {
  kind: string;
  mode: TaxMode;
  threshold?: Minor;
  from?: Day;
  to?: Day;
}

/** One tax, state or county say: thresholds and exemptions belong to it and not to the sum. */
export interface TaxComponent {
  code: string;
  name: string;
  rate: Rate;
  rules: KindRule[];
}

/** The tax of a sale: whether the tags' prices hold it, and where it is rounded. */
export interface TaxRules {
  included: boolean;
  basis: (typeof taxBases)[number];
  /** Adds the components' rates and rounds once, which Streamlined section 324 allows. */
  together: boolean;
  components: TaxComponent[];
}

/** One tax on every kind, added to the prices and rounded once for the whole receipt. */
export const flatTax = (rate: Rate, name: string): TaxRules => ({
  included: false,
  basis: "receipt",
  together: true,
  components: [{ code: "tax", name, rate, rules: [] }],
});

/**
 * The rule of a component for a kind of goods on a day. A rule for a span of days (a tax holiday)
 * goes before one without, and the kind's own rule before one for every kind; the first one in
 * the list counts. Without any rule the kind is taxed.
 */
export function ruleFor({ rules }: TaxComponent, kind: string, day: Day): KindRule {
  const today = rules.filter(({ from = day, to = day }) => from <= day && day <= to);
  const spans = today.filter(isSpan);
  const always = today.filter((rule) => !isSpan(rule));
  const first = (list: KindRule[], wanted: string) => list.find((rule) => rule.kind === wanted);
  return (
    first(spans, kind) ??
    first(spans, "*") ??
    first(always, kind) ??
    first(always, "*") ?? { kind: "*", mode: "taxable" }
  );
}

const isSpan = ({ from, to }: KindRule): boolean => from !== undefined || to !== undefined;

/** A sale without any tax. */
export const noTax: TaxRules = {
  included: false,
  basis: "receipt",
  together: true,
  components: [],
};
