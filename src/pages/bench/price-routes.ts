import { keepWage } from "../../actions/keep-wage.ts";
import { wageShape } from "../../contract/price-help.ts";
import { listKinds } from "../../database/kinds.ts";
import { likePieces } from "../../database/like-pieces.ts";
import { wageOf } from "../../database/member-wage.ts";
import { helpWithPrice } from "../../database/price-help.ts";
import { piecesEntered, salesToPrice, saleToPrice } from "../../database/price-scene.ts";
import { type PriceStart, startFromItem, startFromSheet } from "../../database/price-start.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import { amountText, parseMoney, unitOf } from "../../rules/currency.ts";
import { dayIn } from "../../rules/day.ts";
import { fibreList } from "../../rules/fibre.ts";
import { ok, type Problem } from "../../rules/problem.ts";
import { largestQuantity } from "../../rules/sale-rules.ts";
import { guildWords, numberAfter } from "../books/scene.ts";
import { readForm } from "../read-form.ts";
import { type Typed, textsOf } from "../sales/terms-rows.ts";
import { isId, searchOf, wantId } from "../want-id.ts";
import { benchNav } from "./bench-nav.ts";
import { carried, isAsked, readPrice, readQuestion, startValues } from "./price-form.ts";
import { helpView, poolView } from "./price-page.ts";

const mine = { config: { access: "signed-in" as const } };
const path = "/bench/price";

/** Price help: an address holds the whole question, so that it can be kept and sent on. */
export async function pricePages(app: App): Promise<void> {
  app.get(path, mine, async (request, reply) => {
    const typed = textsOf(request.query);
    const start = isAsked(typed) ? null : await startOf(request, typed);
    const values = start || !isAsked(typed) ? await valuesFor(request, start) : typed;
    const { problem, ...page } = await pricePage(request, values, start?.notes ?? []);
    // Opening the page with half of the figures is no mistake: the rest is still to be typed.
    const shown = isAsked(typed) ? problem : undefined;
    return reply.page("bench/price", { ...page, problem: shown, name: start?.name }, shown?.status);
  });

  app.post(`${path}/wage`, mine, async (request, reply) => {
    const typed = textsOf(request.body);
    const { currency } = await guildWords(request);
    const text = typed.wage ?? "";
    const amount = text === "" ? ok(null) : parseMoney(text, currency, "wage");
    const read = amount.ok ? readForm(wageShape, { wage: amount.value }) : amount;
    const kept = read.ok ? await keepWage(request.deed(), read.value.wage) : read;
    const back = textsOf(Object.fromEntries(new URLSearchParams(typed.back)));
    if (!kept.ok) {
      const { problem } = kept;
      const page = await pricePage(request, { ...back, wage: text }, []);
      return reply.page("bench/price", { ...page, problem }, problem.status);
    }
    const words = kept.value.kept ? "is kept for next time. Nobody else sees it." : "is forgotten.";
    return reply.seeOther(addressOf(back), { kind: "good", text: `Your wanted pay ${words}` });
  });
}

/** An own sheet or item that the address names; another's answers like one that is not there. */
async function startOf(request: Request, typed: Typed): Promise<PriceStart | null> {
  const { db } = request.server.parts;
  const memberId = request.who().id;
  const named = async (start: Promise<PriceStart | null>, what: string) => {
    const found = await start;
    if (!found) throw notFound(what);
    return found;
  };
  if (typed.sheet) {
    const given = { sheetId: wantId(typed.sheet, "this warp sheet"), run: numberAfter(typed.run) };
    return named(startFromSheet(db, memberId, given), "this warp sheet");
  }
  if (!typed.item) return null;
  const itemId = wantId(typed.item, "this item");
  return named(startFromItem(db, memberId, itemId), "this item");
}

async function valuesFor(request: Request, start: PriceStart | null): Promise<Typed> {
  const { db } = request.server.parts;
  const memberId = request.who().id;
  const sale = await saleToPrice(db);
  const { currency } = await guildWords(request);
  const sharedBy = sale ? await piecesEntered(db, sale.id, memberId) : 0;
  return startValues(start, { wage: await wageOf(db, memberId), sharedBy, currency });
}

async function pricePage(request: Request, given: Typed, notes: string[]) {
  // An empty choice is none: the list then stands at the sale that is next.
  const values = Object.fromEntries(Object.entries(given).filter(([, text]) => text !== ""));
  const { db } = request.server.parts;
  const memberId = request.who().id;
  const guild = await guildWords(request);
  const kept = await wageOf(db, memberId);
  const price = readPrice(values, guild.currency);
  const read = readQuestion(values, guild.currency);
  const found = read.ok
    ? await helpWithPrice(db, memberId, { ...read.value, price: price.ok ? price.value : null })
    : read;
  const help = found.ok ? helpView(found.value, guild) : undefined;
  const at = help?.at && found.ok && found.value.help.price;
  const problem: Problem | undefined = !found.ok
    ? found.problem
    : price.ok
      ? undefined
      : price.problem;
  const wrong = (names: string[]) =>
    problem?.errors.some(({ field }) => names.includes(field)) ?? false;
  const opens = (names: string[]) => names.some((name) => values[name]) || wrong(names);
  const priceText = at ? amountText(at, guild.currency) : "";
  return {
    title: "Price help",
    rooms: benchNav(path),
    ...{ problem, notes, help, scripts: help?.at ? ["price.js"] : [] },
    values: { ...values, price: price.ok && price.value === null ? priceText : values.price },
    ...(await listsFor(request, values.sale)),
    like: await likeView(request, values),
    hidden: carried
      .filter((name) => name !== "price" && values[name])
      .map((name) => ({ name, value: values[name] })),
    keptPrice: values.price,
    moreOpen: opens(["overhead", "overheadRate", "sellOfTen", "sales"]) || wrong(["sharedBy"]),
    likeOpen: opens(["fibre", "size"]),
    back: queryOf(values),
    keep: read.ok && read.value.wage !== kept ? { wage: values.wage } : undefined,
    forget: kept !== null,
  };
}

async function listsFor(request: Request, chosen = "") {
  const { db } = request.server.parts;
  const open = await salesToPrice(db);
  const usual = await saleToPrice(db);
  const named = isId(chosen) && !open.some(({ id }) => id === chosen) ? chosen : usual?.id;
  const more = await db.sale.findMany({
    where: { id: { in: named ? [named] : [] }, NOT: { id: { in: open.map(({ id }) => id) } } },
    select: { id: true, name: true },
  });
  const sales = [...open, ...more].map(({ id, name }) => ({
    ...{ value: id, label: name, selected: chosen === "" && id === usual?.id },
  }));
  return {
    sales: [...sales, { value: "none", label: "Somewhere else: a shop, a fair, a friend" }],
    kinds: (await listKinds(db)).map(({ code, name }) => ({ value: code, label: name })),
    fibres: fibreList.map(({ code, name }) => ({ value: code, label: name })),
  };
}

/** Pooled prices of the guild's past sales, once a kind is chosen. */
async function likeView(request: Request, { kind, fibre, size, piecesInSet }: Typed) {
  if (!kind) return undefined;
  const { db } = request.server.parts;
  const guild = await guildWords(request);
  const inSet = /^\d{1,3}$/.test(piecesInSet ?? "") ? Number(piecesInSet) : 1;
  const asked = {
    ...{ kind: searchOf(kind), fibre: searchOf(fibre), size: searchOf(size) },
    piecesInSet: Math.min(Math.max(inSet, 1), largestQuantity),
  };
  const now = { unit: unitOf(guild.currency), day: dayIn(request.server.now(), guild.timeZone) };
  const pool = await likePieces(db, request.who().id, asked, now);
  return { pool: poolView(pool, guild) };
}

const queryOf = (values: Typed): string =>
  String(
    new URLSearchParams(
      carried.flatMap((name): [string, string][] => (values[name] ? [[name, values[name]]] : [])),
    ),
  );

const addressOf = (values: Typed): string => `${path}?${queryOf(values)}`;
