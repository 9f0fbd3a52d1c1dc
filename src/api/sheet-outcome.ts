import type { ShownOutcome } from "../contract/sheet-outcome.ts";
import type { Database } from "../database/client.ts";
import { settingFor } from "../database/labels.ts";
import type { Fraction } from "../rules/fraction.ts";
import { itemLabel } from "../rules/labels/item-label.ts";
import { decimalText } from "../rules/weave/measure.ts";
import { runLabel } from "../rules/weave/run-label.ts";
import type { WarpSheet } from "../rules/weave/sheet.ts";
import { workOutSheet } from "../rules/weave/work-out.ts";

/** Works out a sheet for one member, whose guild says what the labels go by. */
export async function outcomeOf(
  db: Database,
  memberId: string,
  sheet: WarpSheet,
): Promise<ShownOutcome> {
  const setting = await settingFor(db, memberId);
  const kinds = await db.kind.findMany({ select: { code: true, labelGroup: true } });
  const labelKind = (code: string) =>
    kinds.find((kind) => kind.code === code)?.labelGroup || code || "other";
  const outcome = workOutSheet(sheet);
  const runs = outcome.runs.map((run, index) => {
    const { name: title, kind } = sheet.runs[index]!;
    const item = { title, kind: labelKind(kind), fibres: [], label: runLabel(sheet, run) };
    return { ...run, label: itemLabel(item, setting).fibre.lines.map(({ text }) => text) };
  });
  return told({ ...outcome, runs }) as ShownOutcome;
}

const isFraction = (value: object): value is Fraction =>
  "top" in value && typeof value.top === "bigint";

/** JSON has no whole numbers of that size, so every exact figure goes out as text. */
function told(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(told);
  if (typeof value !== "object" || value === null) return value;
  if (isFraction(value)) {
    const { top, bottom } = value;
    return { exact: bottom === 1n ? `${top}` : `${top}/${bottom}`, decimal: decimalText(value, 4) };
  }
  return Object.fromEntries(Object.entries(value).map(([name, one]) => [name, told(one)]));
}
