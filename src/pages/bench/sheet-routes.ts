import { copySheet, putSheetAway, takeSheetOut } from "../../actions/warp-sheets.ts";
import { countSheets, type KeptSheet, listSheets } from "../../database/warp-sheets.ts";
import { orRefuse } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Region } from "../format.ts";
import { whenText } from "../format.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { cursorOf, nextHref, searchOf, wantId } from "../want-id.ts";
import { benchNav } from "./bench-nav.ts";
import { sheetEntryPages } from "./sheet-entry-routes.ts";
import { sheetFormPages } from "./sheet-form-routes.ts";
import { sheetResults } from "./sheet-results.ts";
import { ownSheet, resultScene, unitsAsked } from "./sheet-scene.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };
const pageSize = 20;

/** A member's warp sheets: the list, one of them with all it comes to, and what is done with it. */
export async function sheetPages(app: App): Promise<void> {
  await app.register(sheetFormPages);
  await app.register(sheetEntryPages);

  app.get("/bench", mine, async (request, reply) =>
    reply.page("bench/sheets", await listPage(request)),
  );

  app.get<WithId>("/bench/sheets/:id", mine, async (request, reply) => {
    const kept = await ownSheet(request);
    return reply.page("bench/sheet", await sheetPage(request, kept));
  });

  app.post<WithId>("/bench/sheets/:id/copies", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this warp sheet");
    const copy = orRefuse(await copySheet(request.deed(), id, app.now()));
    return reply.seeOther(`/bench/sheets/${copy.id}/change`, {
      kind: "good",
      text: "This is the copy. Change what is different this time.",
    });
  });

  app.post<WithId>("/bench/sheets/:id/put-away", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this warp sheet");
    orRefuse(await putSheetAway(request.deed(), id, app.now()));
    return reply.seeOther("/bench", {
      kind: "good",
      text: "Put away. You find it under “Put away” and can take it out again.",
    });
  });

  app.post<WithId>("/bench/sheets/:id/put-away/undo", mine, async (request, reply) => {
    const id = wantId(request.params.id, "this warp sheet");
    orRefuse(await takeSheetOut(request.deed(), id));
    return reply.seeOther(`/bench/sheets/${id}`, {
      kind: "good",
      text: "It is on the list again.",
    });
  });
}

async function listPage(request: Request) {
  const { db } = request.server.parts;
  const query = request.query as Fields;
  const q = searchOf(query.q);
  const putAway = textOf(query, "list") === "put-away";
  const after = cursorOf(query.after);
  const filter = { memberId: request.who().id, putAway };
  const { items, next } = await listSheets(db, { ...filter, q }, { after, limit: pageSize });
  const guild = await db.guild.findFirstOrThrow();
  const list = putAway ? "put-away" : "";
  return {
    title: "My bench",
    rooms: benchNav("/bench"),
    ...{ q, putAway, list },
    sheets: items.map((kept) => rowOf(kept, guild)),
    some: items.length > 0 || (await countSheets(db, filter)) > 0,
    awayCount: putAway ? 0 : await countSheets(db, { ...filter, putAway: true }),
    nextHref: nextHref("/bench", next, { q, list }),
    firstHref: after && `/bench?${new URLSearchParams({ q, list })}`,
  };
}

const rowOf = ({ id, name, sheet, changedAt }: KeptSheet, region: Region) => ({
  ...{ name, href: `/bench/sheets/${id}` },
  pieces: sheet.runs.map((run) => `${run.count} × ${run.name}`).join(", "),
  yarns: sheet.yarns.map((yarn) => yarn.name).join(", "),
  changed: whenText(changedAt, region),
});

async function sheetPage(request: Request, kept: KeptSheet) {
  const units = unitsAsked(request.query as Fields, kept.sheet.units);
  const scene = await resultScene(request, kept, units);
  const path = `/bench/sheets/${kept.id}`;
  const other = units === "metric" ? "inch" : "metric";
  return {
    title: kept.name,
    rooms: benchNav("/bench"),
    ...{ path, putAway: kept.putAwayAt !== null, notes: kept.sheet.notes, id: kept.id },
    otherHref: `${path}?units=${other}`,
    otherWords: other === "metric" ? "Show in metric" : "Show in inches, yards and pounds",
    changeHref: `${path}/change?units=${units}`,
    ...sheetResults(scene),
  };
}
