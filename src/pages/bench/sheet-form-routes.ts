import { addSheet, editSheet } from "../../actions/warp-sheets.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { type PresetCode, presetCodes, presetSheet } from "../../rules/weave/presets.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { benchNav } from "./bench-nav.ts";
import { readSheet } from "./sheet-form.ts";
import { type RowList, rowFields, rowsShown, sheetFormPage } from "./sheet-form-page.ts";
import { inOtherUnits, type Units } from "./sheet-measures.ts";
import { ownSheet, unitsAsked } from "./sheet-scene.ts";
import { sheetValues } from "./sheet-values.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };

/** Beginning a warp sheet and changing one. Buttons that only add a row or change units keep nothing. */
export async function sheetFormPages(app: App): Promise<void> {
  app.get("/bench/sheets/new", mine, async (request, reply) => {
    const guild = await app.parts.db.guild.findFirstOrThrow();
    const query = request.query as Fields;
    const code = presetCodes.find((one) => one === textOf(query, "preset"));
    if (!code) return reply.page("bench/new-sheet", choicePage());
    const units = unitsAsked(query, guild.paper === "a4" ? "metric" : "inch");
    const preset = presetSheet(code, units);
    return newPage(request, reply, { values: sheetValues(preset, units, guild.currency) });
  });

  app.post("/bench/sheets", mine, async (request, reply) => {
    const body = request.body as Fields;
    const asked = formAgain(body);
    if (asked) return newPage(request, reply, asked);
    const read = readSheet(body, await currencyOf(request));
    const added = read.ok ? await addSheet(request.deed(), read.value, app.now()) : read;
    if (!added.ok) return newPage(request, reply, { values: body, problem: named(added) });
    return reply.seeOther(`/bench/sheets/${added.value.id}`, {
      kind: "good",
      text: "Worked out and kept. You can change every figure later.",
    });
  });

  app.get<WithId>("/bench/sheets/:id/change", mine, async (request, reply) => {
    const kept = await ownSheet(request);
    const units = unitsAsked(request.query as Fields, kept.sheet.units);
    const values = sheetValues(kept, units, await currencyOf(request));
    return changePage(request, reply, { values: { ...values, version: String(kept.version) } });
  });

  app.post<WithId>("/bench/sheets/:id", mine, async (request, reply) => {
    const { id } = await ownSheet(request);
    const body = request.body as Fields;
    const asked = formAgain(body);
    if (asked) return changePage(request, reply, asked);
    const read = readSheet(body, await currencyOf(request));
    const version = Number(/^\d{1,9}$/.exec(textOf(body, "version"))?.[0] ?? 0);
    const edited = read.ok
      ? await editSheet(request.deed(), { id, version, ...read.value }, app.now())
      : read;
    if (!edited.ok) return changePage(request, reply, { values: body, problem: named(edited) });
    return reply.seeOther(`/bench/sheets/${id}`, { kind: "good", text: "Worked out again." });
  });
}

interface Shown {
  values: Fields;
  problem?: Problem;
  focus?: string | undefined;
}

const newPage = (request: Request, reply: Reply, shown: Shown) =>
  sheetFormPage(request, reply, {
    ...shown,
    ...{ action: "/bench/sheets", backHref: "/bench/sheets/new", title: "Plan a warp" },
  });

function changePage(request: Request, reply: Reply, shown: Shown) {
  const path = `/bench/sheets/${(request.params as { id: string }).id}`;
  const title = textOf(shown.values, "name") || "Change this warp sheet";
  return sheetFormPage(request, reply, { ...shown, title, action: path, backHref: path });
}

const currencyOf = async (request: Request): Promise<string> =>
  (await request.server.parts.db.guild.findFirstOrThrow()).currency;

/** The form once more, in other units or with one more row, when that is what was pressed. */
function formAgain(body: Fields): Shown | null {
  const go = textOf(body, "go");
  if (go === "inch" || go === "metric") return { values: inOtherUnits(body, go as Units) };
  const list = (["yarn", "warp", "run"] as const).find((one) => go === `add-${one}`);
  return list ? withRow(body, list) : null;
}

/** One more row; a new piece begins like the first one, since it hangs on the same warp. */
function withRow(body: Fields, list: RowList): Shown {
  const { field, most } = rowFields[list];
  const shown = Math.max(rowsShown(body, list), list === "warp" ? 2 : 1);
  const count = Math.min(shown + 1, most);
  const more: Record<string, string> = { [field]: String(count) };
  if (list === "warp") return { values: { ...body, ...more } };
  const at = `${list === "run" ? "runs" : "yarns"}.${count - 1}`;
  const cells =
    list === "run"
      ? ["measured", "wefts.0.yarn", "wefts.0.extra", "wefts.1.extra"]
      : ["system", "yardageUnit", "per", "haveUnit", "soldByUnit"];
  for (const cell of cells)
    more[`${at}.${cell}`] = textOf(body, `${list === "run" ? "runs" : "yarns"}.0.${cell}`);
  if (list === "run") more[`${at}.count`] = "1";
  return { values: { ...body, ...more }, focus: at };
}

/** The action names parts of what it was given; the form knows the sheet's own fields only. */
const named = ({ problem }: Extract<Result<never>, { ok: false }>): Problem => ({
  ...problem,
  errors: problem.errors.map(({ field, message }) => ({
    field: field.replace(/^sheet\./, ""),
    message,
  })),
});

const presetWords: Record<PresetCode, { label: string; text: string }> = {
  towels: { label: "Towels", text: "Seven from one warp of 8/2 cotton, hemmed." },
  scarf: { label: "Scarves", text: "Two in fine wool, with a fringe." },
  placemats: { label: "Placemats", text: "Four in 5/2 cotton, hemmed." },
  rug: { label: "A rag rug", text: "Cotton carpet warp, rags weighed by area." },
  empty: { label: "Something else", text: "An empty sheet with the usual allowances." },
};

const choicePage = () => ({
  title: "Plan a warp",
  rooms: benchNav("/bench"),
  presets: presetCodes.map((code) => ({
    ...presetWords[code],
    href: `/bench/sheets/new?preset=${code}`,
  })),
});
