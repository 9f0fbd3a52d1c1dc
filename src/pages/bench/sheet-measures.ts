import {
  type AreaWeightUnit,
  areaWeightUnits,
  type DensityUnit,
  densityUnits,
  fieldText,
  type LengthUnit,
  lengthUnits,
  type Measure,
  readMeasure,
  type Unit,
} from "../../rules/weave/measure.ts";
import { type Fields, textOf } from "../items/fields.ts";

export type Units = "inch" | "metric";
type Sort = "length" | "density" | "area";
export type MeasureUnit<S extends Sort> = {
  length: LengthUnit;
  density: DensityUnit;
  area: AreaWeightUnit;
}[S];

/** The unit in which a form shows each sort of measure. */
export const shownIn = {
  inch: { length: "in", density: "per-in", area: "oz/sqft" },
  metric: { length: "cm", density: "per-cm", area: "g/sqm" },
} as const;

const known = { length: lengthUnits, density: densityUnits, area: areaWeightUnits } as const;

/** The sort of the measure that a field of the form holds, by the last part of its name. */
const sorts: Readonly<Record<string, Sort>> = {
  ...{ sett: "density", picks: "density", weight: "area" },
  ...{ width: "length", length: "length", hems: "length", fringe: "length" },
  ...{ gap: "length", sampling: "length", loomWaste: "length" },
  ...{ stripWidth: "length", clothWidth: "length" },
};

const sortOf = (name: string): Sort | undefined => {
  const last = name.split(".").at(-1) ?? "";
  return Object.hasOwn(sorts, last) ? sorts[last] : undefined;
};

export const unitsOf = (fields: Fields): Units =>
  textOf(fields, "shown") === "metric" ? "metric" : "inch";

/**
 * What each field was typed as, before it was shown in these units: it travels with the form, so
 * that a figure that nobody touches stays what it is, however often the units are changed.
 */
export type Typed = ReadonlyMap<string, Measure>;

const field = "was";

export function typedIn(fields: Fields): Typed {
  let given: unknown;
  try {
    given = JSON.parse(textOf(fields, field) || "{}");
  } catch {
    return new Map();
  }
  const found = new Map<string, Measure>();
  for (const [name, value] of Object.entries(given ?? {})) {
    const sort = sortOf(name);
    if (!sort || !Array.isArray(value)) continue;
    const [thousandths, unit] = value as unknown[];
    if (!Number.isSafeInteger(thousandths) || (thousandths as number) < 0) continue;
    if ((known[sort] as readonly unknown[]).includes(unit))
      found.set(name, { thousandths: thousandths as number, unit: unit as Unit });
  }
  return found;
}

const asText = (typed: Typed): string =>
  JSON.stringify(
    Object.fromEntries([...typed].map(([name, one]) => [name, [one.thousandths, one.unit]])),
  );

/** Reads one field; an empty one is nothing, and what is no figure is not a number. */
export function measureAt<S extends Sort>(
  fields: Fields,
  typed: Typed,
  name: string,
  sort: S,
): Measure<MeasureUnit<S>> {
  const unit = shownIn[unitsOf(fields)][sort] as MeasureUnit<S>;
  const text = textOf(fields, name);
  const before = typed.get(name) as Measure<MeasureUnit<S>> | undefined;
  if (text === "") return before?.thousandths === 0 ? before : { thousandths: 0, unit };
  return readMeasure(text, unit, before) ?? { thousandths: Number.NaN, unit };
}

/** Measures as the fields of a form in these units, with what they were typed as. */
export function measureValues(
  measures: readonly (readonly [string, Measure])[],
  units: Units,
): Record<string, string> {
  const shown = measures.map(([name, one]) => {
    const unit = shownIn[units][sortOf(name) ?? "length"];
    return [name, one.thousandths === 0 ? "" : fieldText(one, unit)] as const;
  });
  return { ...Object.fromEntries(shown), shown: units, [field]: asText(new Map(measures)) };
}

/** The same form in other units: every figure that can be read is shown in them. */
export function inOtherUnits(fields: Fields, units: Units): Fields {
  const before = typedIn(fields);
  const after = new Map<string, Measure>();
  const changed: Record<string, unknown> = { ...fields, shown: units };
  for (const name of Object.keys(fields)) {
    const sort = sortOf(name);
    if (!sort) continue;
    const measure = measureAt(fields, before, name, sort);
    if (Number.isNaN(measure.thousandths)) continue;
    after.set(name, measure);
    if (textOf(fields, name) !== "") changed[name] = fieldText<Unit>(measure, shownIn[units][sort]);
  }
  return { ...changed, [field]: asText(after) };
}
