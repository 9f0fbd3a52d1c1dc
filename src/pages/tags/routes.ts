import { stockCodes, tagQuery } from "../../contract/tags.ts";
import { salesOfMember } from "../../database/sale-choice.ts";
import { findSale, listSales, type SaleRead } from "../../database/sales.ts";
import { copiesOf, gatherTags } from "../../database/tags.ts";
import { notFound, RefusedRequest } from "../../plugins/errors.ts";
import { seenItem, tagsOf } from "../../plugins/seen-items.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { stocks } from "../../printing/stock.ts";
import { tagFile } from "../../printing/tag-file.ts";
import { ok, type Problem, type Result, refuseField } from "../../rules/problem.ts";
import { hasAny } from "../../rules/roles.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { isId } from "../items/ids.ts";
import { chosenSale } from "../items/scene.ts";
import { readForm } from "../read-form.ts";

const mine = { config: { access: "signed-in" as const } };

/** Choosing which tags to print and on which sheet; the choice is a link that can be kept. */
export async function tagPages(app: App): Promise<void> {
  app.get("/tags", mine, async (request, reply) =>
    choicePage(request, reply, request.query as Fields),
  );

  app.get("/tags/file", mine, async (request, reply) => {
    const query = request.query as Fields;
    const file = await fileFor(request, query);
    if (!file.ok) return choicePage(request, reply, query, file.problem);
    return reply
      .type("application/pdf")
      .header("content-disposition", `attachment; filename="${file.value.name}"`)
      .send(Buffer.from(file.value.bytes));
  });
}

interface Chosen {
  sale: SaleRead;
  itemId?: string;
  memberId?: string;
  /** Whose tags they are, for the name of the file. */
  about: string;
}

async function fileFor(request: Request, query: Fields) {
  const { db } = request.server.parts;
  const { stock, start, each } = Object.fromEntries(
    Object.keys(tagQuery.shape).map((name) => [name, textOf(query, name) || undefined]),
  );
  const read = readForm(tagQuery, { stock, start, each: each ?? "no" });
  if (!read.ok) return read;
  const chosen = await choose(request, query);
  if (!chosen.ok) return chosen;
  const { sale, about, itemId, memberId } = chosen.value;
  const guild = await db.guild.findFirstOrThrow();
  const forEach = read.value.each === "yes";
  const words = await gatherTags(db, { saleId: sale.id, itemId, memberId, each: forEach });
  const { stock: sheet, start: startAt } = read.value;
  const names = { guildName: guild.name, saleName: sale.name, about };
  return tagFile(copiesOf(words, "bars"), {
    stock: sheet,
    startAt,
    ...names,
    createdAt: request.server.now(),
  });
}

/** Members choose among their own pieces; helpers also a member's or a whole sale's. */
async function choose(request: Request, query: Fields): Promise<Result<Chosen>> {
  const { db } = request.server.parts;
  const actor = request.who();
  if (isId(textOf(query, "item"))) {
    const item = await seenItem(db, actor, textOf(query, "item"));
    const sale = await findSale(db, item.saleId);
    if (!sale) throw notFound("this sale");
    return ok({ sale, itemId: item.id, about: item.shownTag });
  }
  const sale = await chosenSale(request, textOf(query, "sale"));
  if (!sale) throw notFound("a sale with tags");
  const whose = textOf(query, "whose") || "mine";
  if (whose === "mine") return ok({ sale, memberId: actor.id, about: String(actor.number) });
  if (whose === "sale" && isHelper(request)) return ok({ sale, about: "all" });
  const number = textOf(query, "member");
  if (!/^\d{1,4}$/.test(number))
    return refuseField("member", "Type the member's number, for example 104.");
  const memberId = await tagsOf(db, actor, Number(number)).catch(asRefusal);
  if (typeof memberId !== "string") return refuseField("member", `There is no member ${number}.`);
  return ok({ sale, memberId, about: number });
}

/** An unknown number is put right in the form; everything else ends the request. */
function asRefusal(error: unknown): undefined {
  if (error instanceof RefusedRequest && error.problem.code === "not-found") return undefined;
  throw error;
}

const isHelper = (request: Request): boolean => hasAny(request.who().roles, ["desk", "chair"]);

async function choicePage(request: Request, reply: Reply, query: Fields, problem?: Problem) {
  const { db } = request.server.parts;
  const actor = request.who();
  const guild = await db.guild.findFirstOrThrow();
  const itemId = textOf(query, "item");
  const item = isId(itemId) ? await seenItem(db, actor, itemId) : undefined;
  const sale = item ? null : await chosenSale(request, textOf(query, "sale"));
  const preferred = guild.paper === "a4" ? "a4-21" : "letter-30";
  const data = {
    title: "Print tags",
    item,
    helper: isHelper(request),
    sales: item ? [] : await saleOptions(request, sale),
    stocks: stockCodes.map((value) => ({
      value,
      label: stocks[value].words,
      selected: value === preferred,
    })),
    values: { whose: "mine", start: "1", each: problem ? "" : "yes", ...query },
    problem,
  };
  return reply.page("tags/choose", data, problem?.status ?? 200);
}

async function saleOptions(request: Request, shown: SaleRead | null) {
  const { db } = request.server.parts;
  const sales = isHelper(request)
    ? (await listSales(db, { limit: 50 })).items
    : await salesOfMember(db, request.who().id);
  const all = shown && !sales.some(({ id }) => id === shown.id) ? [shown, ...sales] : sales;
  return all.map(({ id, name }) => ({ value: id, label: name, selected: id === shown?.id }));
}
