import type { FieldError } from "../../rules/problem.ts";
import { inItsRow } from "../items/fibre-rows.ts";
import type { SheetRows } from "./sheet-form.ts";

/** Where a part of the sheet is typed, when the field has another name than the part. */
const renamed: readonly [RegExp, string][] = [
  [/^(yarns\.\d+)\.number\.(plies|system)$/, "$1.$2"],
  [/^(yarns\.\d+)\.yardage\.unit$/, "$1.yardageUnit"],
  [/^(yarns\.\d+)\.price\.per.*$/, "$1.per"],
  [/^(yarns\.\d+)\.price\.amount$/, "$1.price"],
  [/^(yarns\.\d+\.(?:have|soldBy)|haveWarp)\.unit$/, "$1Unit"],
  [/^(runs\.\d+)\.length\.measured$/, "$1.measured"],
  [/^(runs\.\d+)\.wefts$/, "$1.wefts.0.yarn"],
  [/\.strips\.width(\.\w+)?$/, ".stripWidth"],
  [/\.strips\.cloth(\.\w+)?$/, ".clothWidth"],
  [/\.strips\.(picks|extra)(\.\w+)?$/, ".$1"],
  [/\.(thousandths|unit)$/, ""],
  [/^yarns$/, "yarns.0.name"],
  [/^warp$/, "warp.0.yarn"],
  [/^runs$/, "runs.0.name"],
];

/** Names the field of the form for a fault: the sheet counts filled rows, a person sees them all. */
export function placeError({ field, message }: FieldError, rows: SheetRows): FieldError {
  const named = renamed.reduce((name, [what, by]) => name.replace(what, by), field);
  let placed: FieldError = { field: named, message };
  const inner = [
    ...rows.blends.map((list, index) => [`yarns.${index}.blend`, list] as const),
    ...rows.wefts.map((list, index) => [`runs.${index}.wefts`, list] as const),
  ];
  for (const [name, list] of inner) placed = inItsRow(placed, name, list);
  // Without a row for it, a warp of one yarn is the first yarn's matter.
  if (rows.warp.length === 0 && placed.field.startsWith("warp.0."))
    return { field: "yarns.0.number", message };
  for (const name of ["yarns", "warp", "runs"] as const)
    placed = inItsRow(placed, name, rows[name]);
  return placed;
}
