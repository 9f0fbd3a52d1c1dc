import { enterFromSheet } from "../../actions/enter-from-sheet.ts";
import { findSale } from "../../database/sales.ts";
import { enteredFromSheet, type KeptSheet } from "../../database/warp-sheets.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { stockNamed } from "../../printing/paper.ts";
import { formatMoney } from "../../rules/currency.ts";
import { piecesText } from "../../rules/item.ts";
import type { Problem } from "../../rules/problem.ts";
import { showTag } from "../../rules/tag-number.ts";
import { shownAgain, withAgreement } from "../items/agreement.ts";
import { noSale } from "../items/entry-routes.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { formLists, type Scene, sceneOf } from "../items/scene.ts";
import { usualStock } from "../tags/choice-page.ts";
import { benchNav } from "./bench-nav.ts";
import { entryProblem, readSheetEntry } from "./sheet-entry-form.ts";
import { labelWords } from "./sheet-results.ts";
import { ownSheet, resultScene } from "./sheet-scene.ts";
import { sizeText } from "./sheet-words.ts";

type WithId = { Params: { id: string } };
const mine = { config: { access: "signed-in" as const } };

/** From a warp sheet to items of a sale in one step, and on to their tags. */
export async function sheetEntryPages(app: App): Promise<void> {
  app.get<WithId>("/bench/sheets/:id/enter", mine, async (request, reply) => {
    const kept = await ownSheet(request);
    const scene = await entryScene(request, request.query as Fields);
    if (!scene) return noSale(reply);
    return entryPage(request, reply, { kept, scene, values: await firstValues(request, kept) });
  });

  app.post<WithId>("/bench/sheets/:id/enter", mine, async (request, reply) => {
    const kept = await ownSheet(request);
    const body = request.body as Fields;
    const scene = await entryScene(request, body);
    if (!scene) return noSale(reply);
    const read = readSheetEntry(body, scene);
    const entered = read.ok
      ? await enterFromSheet(request.deed(), { ...read.value, sheetId: kept.id }, app.now())
      : read;
    if (!entered.ok) {
      const told = read.ok ? entryProblem(entered.problem, body) : entered.problem;
      const problem = withAgreement(told, body, scene);
      return entryPage(request, reply, { kept, scene, values: shownAgain(body, scene), problem });
    }
    const count = entered.value.length;
    return reply.seeOther(`/bench/sheets/${kept.id}/entered?sale=${scene.sale.id}`, {
      kind: "good",
      title: count === 1 ? "1 tag number given" : `${count} tag numbers given`,
      text: entered.value
        .map(({ tag }) => showTag(tag))
        .join(", ")
        .slice(0, 400),
    });
  });

  app.get<WithId>("/bench/sheets/:id/entered", mine, async (request, reply) => {
    const kept = await ownSheet(request);
    return reply.page("bench/entered", await enteredPage(request, kept));
  });
}

/** One's own entry: a helper's choice of another member has no place on one's own bench. */
const entryScene = (request: Request, given: Fields): Promise<Scene | null> =>
  sceneOf(request, { sale: textOf(given, "sale") });

/** Every run ticked, as the sheet has it; only the price is left to say. */
async function firstValues(request: Request, kept: KeptSheet): Promise<Fields> {
  const { outcome, sheet, units } = await resultScene(request, kept);
  const rows = outcome.runs.map((run, row) => {
    const { name, count, kind } = sheet.runs[row]!;
    const at = `rows.${row}`;
    return {
      ...{ [`${at}.on`]: "yes", [`${at}.count`]: String(count), [`${at}.kind`]: kind },
      ...{ [`${at}.description`]: name, [`${at}.tagging`]: "each" },
      [`${at}.size`]: sizeText(run.finishedWidth, run.finishedLength, units),
    };
  });
  return { version: String(kept.version), ...Object.assign({}, ...rows) };
}

interface EntryPage {
  kept: KeptSheet;
  scene: Scene;
  values: Fields;
  problem?: Problem;
}

async function entryPage(request: Request, reply: Reply, page: EntryPage) {
  const { kept, scene, values, problem } = page;
  const results = await resultScene(request, kept);
  const path = `/bench/sheets/${kept.id}`;
  const data = {
    ...(await formLists(request, scene, { values, problem })),
    title: "Enter these pieces",
    rooms: benchNav("/bench"),
    ...{ path, values, problem, name: kept.name, version: textOf(values, "version") },
    ...{ saleId: scene.sale.id, saleName: scene.sale.name },
    ...{ agreement: scene.agreement, keeps: scene.keeps },
    closedText: problem ? undefined : scene.closed?.detail,
    rows: results.outcome.runs.map((run, row) => ({
      ...{ row, name: `rows.${row}`, legend: kept.sheet.runs[row]?.name },
      priceHref: `/bench/price?sheet=${kept.id}&run=${row}`,
      ...labelWords(results, run, row),
    })),
  };
  return reply.page("bench/enter", data, problem?.status ?? 200);
}

/** What was entered from the sheet for one sale, and the one button that prints what has no tag yet. */
async function enteredPage(request: Request, kept: KeptSheet) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const stock = usualStock("tag", guild.paper);
  const all = await enteredFromSheet(db, request.who().id, kept.id);
  const asked = textOf(request.query as Fields, "sale");
  const saleId = all.some((item) => item.saleId === asked) ? asked : all[0]?.saleId;
  const sale = saleId ? await findSale(db, saleId) : null;
  return {
    title: "Pieces from this warp",
    rooms: benchNav("/bench"),
    ...{ path: `/bench/sheets/${kept.id}`, name: kept.name, saleName: sale?.name, saleId },
    ...{ stock, paper: stockNamed(stock, null)?.words },
    items: all
      .filter((item) => item.saleId === saleId)
      .map(({ id, tag, description, quantity, piecesInSet, price }) => ({
        ...{ href: `/items/${id}`, shownTag: showTag(tag), description },
        pieces: piecesText(quantity, piecesInSet) || "1 piece",
        price: formatMoney(Number(price), guild.currency, guild.locale),
      })),
  };
}
