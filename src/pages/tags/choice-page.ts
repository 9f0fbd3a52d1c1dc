import type { PrintWhat } from "../../contract/prints.ts";
import { listLabelStocks, listPrinters } from "../../database/label-stocks.ts";
import { recentPrints } from "../../database/print-jobs.ts";
import { salesOfMember } from "../../database/sale-choice.ts";
import { listSales, type SaleRead } from "../../database/sales.ts";
import { countsOf, printables } from "../../database/tag-prints.ts";
import type { Reply, Request } from "../../plugins/types.ts";
import { stockNamed, suits } from "../../printing/paper.ts";
import { type Stock, stockNames, stocks } from "../../printing/stock.ts";
import { momentText } from "../../rules/moment.ts";
import type { Problem } from "../../rules/problem.ts";
import type { Region } from "../format.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { isId } from "../want-id.ts";
import { isHelper, pathOf, type Scope, scopeOf, whatOf } from "./scope.ts";
import { stateOf } from "./states.ts";

export async function choicePage(request: Request, reply: Reply, given: Fields, problem?: Problem) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const what = whatOf(given);
  const sales = isId(textOf(given, "item"))
    ? []
    : await saleOptions(request, textOf(given, "sale"));
  if (!isId(textOf(given, "item")) && sales.length === 0)
    return reply.page("tags/choose", { title: "Print tags" });
  const scope = await scopeOf(request, given);
  const fault = problem ?? (scope.ok ? undefined : scope.problem);
  const own = await listLabelStocks(db);
  const fitting = [
    ...stockNames.map((name) => ({ value: name as string, stock: stocks[name] as Stock })),
    ...own.map(({ id, shape }) => ({ value: id, stock: shape as Stock })),
  ].filter(({ stock }) => suits(stock, what));
  const wanted = textOf(given, "stock");
  const chosen = fitting.some(({ value }) => value === wanted)
    ? wanted
    : usualStock(what, guild.paper);
  const printers = await listPrinters(db);
  const shown = scope.ok ? await printForm(request, scope.value, chosen) : undefined;
  const data = {
    title: what === "tag" ? "Print tags" : "Print care strips",
    ...{ what, helper: isHelper(request), sales, problem: fault },
    stocks: fitting.map(({ value, stock }) => ({
      ...{ value, label: stock.words },
      selected: value === chosen,
    })),
    printers: printers.map(({ id, name }) => ({ value: id, label: name })),
    ...shown,
    recent: await recentRows(request, guild),
    values: {
      whose: "mine",
      which: shown?.likely ?? "new",
      start: "1",
      code: "bars",
      each: fault ? "" : "yes",
      ...given,
    },
  };
  return reply.page("tags/choose", data, fault?.status ?? 200);
}

/** What fits on ordinary paper with room for all that the law wants. */
export const usualStock = (what: PrintWhat, paper: string): string => {
  if (what === "care-strip") return paper === "a4" ? "care-strip-a4" : "care-strip";
  return paper === "a4" ? "a4-21" : "letter-10";
};

async function printForm(request: Request, scope: Scope, stock: string) {
  const { db } = request.server.parts;
  const { sale, itemId, memberId, what, fields } = scope;
  const tags = await printables(db, what, { saleId: sale.id, itemId, memberId, each: true });
  const counts = countsOf(tags);
  const [first] = tags;
  const picture = first && { item: first.itemId, what, stock };
  return {
    ready: true,
    ...{ item: scope.item, saleName: sale.name, empty: counts.all === 0 },
    // What is most likely wanted: a first choice of nothing would only be refused.
    likely: (["new", "changed"] as const).find((which) => counts[which] > 0) ?? "all",
    hidden: Object.entries(fields).map(([name, value]) => ({ name, value })),
    kinds: (["tag", "care-strip"] as const).map((one) => ({
      href: pathOf(fields, { what: one }),
      label: one === "tag" ? "Tags" : "Care strips",
      current: one === what,
    })),
    whiches: [
      { value: "new", label: `Not printed yet (${counts.new})` },
      {
        value: "changed",
        label: `Changed since printed (${counts.changed})`,
        hint: "The old ones say something else now: take them off.",
      },
      {
        value: "all",
        label: `All (${counts.all})`,
        hint: "Those printed before are recorded as printed again.",
      },
    ],
    needsStrips: what === "care-strip" ? tags.filter(({ needsStrip }) => needsStrip).length : 0,
    pictureHref: picture && `/tags/picture.svg?${new URLSearchParams(picture)}`,
    pictureAbout: first?.words.shownTag,
    otherStocks: stockNames
      .filter((name) => suits(stockNamed(name, null)!, what))
      .map((name) => ({
        href: pathOf(fields, { stock: name }),
        label: stocks[name].words,
        current: name === stock,
      })),
  };
}

async function saleOptions(request: Request, shown: string) {
  const { db } = request.server.parts;
  const sales: { id: string; name: string }[] = isHelper(request)
    ? (await listSales(db, { limit: 50 })).items
    : await salesOfMember(db, request.who().id);
  const listed = shown === "" || sales.some(({ id }) => id === shown);
  const asked: SaleRead[] = listed ? [] : await scopeSale(request, shown);
  return [...asked, ...sales].map(({ id, name }) => ({
    ...{ value: id, label: name },
    selected: id === shown,
  }));
}

async function scopeSale(request: Request, sale: string): Promise<SaleRead[]> {
  const scope = await scopeOf(request, { sale, whose: "mine" });
  return scope.ok ? [scope.value.sale] : [];
}

async function recentRows(request: Request, { locale, timeZone }: Region) {
  const { db } = request.server.parts;
  return (await recentPrints(db, request.who().id)).map((job) => ({
    href: `/tags/prints/${job.id}`,
    when: momentText(job.createdAt, locale, timeZone),
    labels: job.total,
    badge: stateOf(job.state),
  }));
}
