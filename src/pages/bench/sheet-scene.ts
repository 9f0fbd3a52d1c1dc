import { settingFor } from "../../database/labels.ts";
import { findSheet, type KeptSheet } from "../../database/warp-sheets.ts";
import { notFound } from "../../plugins/errors.ts";
import type { Request } from "../../plugins/types.ts";
import { workOutSheet } from "../../rules/weave/work-out.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { wantId } from "../want-id.ts";
import type { Units } from "./sheet-measures.ts";
import type { ResultScene } from "./sheet-results.ts";

/** One's own sheet named in the address; anybody else's is not there. */
export async function ownSheet(request: Request): Promise<KeptSheet> {
  const id = wantId((request.params as { id: string }).id, "this warp sheet");
  const sheet = await findSheet(request.server.parts.db, request.who().id, id);
  if (!sheet) throw notFound("this warp sheet");
  return sheet;
}

/** The units of a page: what its address asks for, else what the sheet is kept in. */
export const unitsAsked = (query: Fields, kept: Units): Units => {
  const asked = textOf(query, "units");
  return asked === "inch" || asked === "metric" ? asked : kept;
};

/** A sheet with all that it comes to and what its labels go by. */
export async function resultScene(
  request: Request,
  { sheet }: KeptSheet,
  units: Units = sheet.units,
): Promise<ResultScene> {
  const { db } = request.server.parts;
  const kinds = await db.kind.findMany({ select: { code: true, labelGroup: true } });
  return {
    ...{ sheet, units, outcome: workOutSheet(sheet) },
    guild: await db.guild.findFirstOrThrow(),
    setting: await settingFor(db, request.who().id),
    labelKind: (code) => kinds.find((kind) => kind.code === code)?.labelGroup || code || "other",
  };
}
