import { addGood, changeGood } from "../../actions/guild-goods.ts";
import {
  type GoodChange,
  type GoodInput,
  goodChange,
  goodShape,
} from "../../contract/guild-goods.ts";
import { type GuildGoodRead, listGuildGoods } from "../../database/guild-goods.ts";
import { listKinds } from "../../database/kinds.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import { amountText, formatMoney, parseMoney } from "../../rules/currency.ts";
import { ok, type Problem, type Result } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";
import { guildOf, saleOf, type WithId } from "./sale-of.ts";
import { textsOf } from "./terms-rows.ts";

const chair = { config: { access: ["chair"] as const } };
type WithGood = { Params: { id: string; goodId: string }; Querystring: { change?: string } };
interface Shown {
  problem?: Problem;
  values?: Record<string, string>;
  /** The button whose form is open. */
  open?: string;
}

/** What the guild itself sells at a sale's tills, and the gifts it takes: a button for each. */
export async function goodsPages(app: App): Promise<void> {
  app.get<WithGood>("/sales/:id/goods", chair, async (request, reply) =>
    goodsPage(request, reply, { open: request.query.change }),
  );

  app.post<WithId>("/sales/:id/goods", chair, async (request, reply) => {
    const { id } = await saleOf(request, request.params.id);
    const read = await readGood(request);
    const done = read.ok ? await addGood(request.deed(), id, read.value) : read;
    if (!done.ok) return goodsPage(request, reply, refusedWith(request, done.problem));
    return reply.seeOther(`/sales/${id}/goods`, { kind: "good", text: "The button is added." });
  });

  app.post<WithGood>("/sales/:id/goods/:goodId", chair, async (request, reply) => {
    const goodId = wantId(request.params.goodId, "this button");
    const { id } = await saleOf(request, request.params.id);
    const here = await listGuildGoods(app.parts.db, id, { retired: true });
    if (!here.some((good) => good.id === goodId)) throw notFound("this button");
    const read = await readChange(request);
    const done = read.ok ? await changeGood(request.deed(), goodId, read.value) : read;
    if (!done.ok)
      return goodsPage(request, reply, { ...refusedWith(request, done.problem), open: goodId });
    return reply.seeOther(`/sales/${id}/goods`, { kind: "good", text: "The change is kept." });
  });
}

const refusedWith = (request: Request, problem: Problem): Shown => ({
  problem,
  values: textsOf(request.body),
});

/** An empty price means that the amount is typed at the till. */
async function pricedFields(request: Request): Promise<Result<Record<string, unknown>>> {
  const { price = "", ...fields } = textsOf(request.body);
  const { currency } = await guildOf(request);
  if (price === "") return ok({ ...fields, price: null });
  const read = parseMoney(price, currency, "price");
  return read.ok ? ok({ ...fields, price: read.value }) : read;
}

async function readGood(request: Request): Promise<Result<GoodInput>> {
  const fields = await pricedFields(request);
  return fields.ok ? readForm(goodShape, fields.value) : fields;
}

async function readChange(request: Request): Promise<Result<GoodChange>> {
  const fields = await pricedFields(request);
  if (!fields.ok) return fields;
  const { position, version, retired, ...rest } = fields.value;
  return readForm(goodChange, {
    ...rest,
    position: Number(position),
    version: Number(version),
    retired: retired === "yes",
  });
}

async function goodsPage(request: Request, reply: Reply, shown: Shown) {
  const { db } = request.server.parts;
  const sale = await saleOf(request, (request.params as { id: string }).id);
  const guild = await guildOf(request);
  const goods = await listGuildGoods(db, sale.id, { retired: true });
  const kinds = (await listKinds(db, { retired: true })).map(({ code, name }) => ({
    value: code,
    label: name,
  }));
  const money = (amount: number) => formatMoney(amount, guild.currency, guild.locale);
  const open = goods.find(({ id }) => id === shown.open);
  const data = {
    title: `The guild's own goods at ${sale.name}`,
    backHref: `/sales/${sale.id}`,
    back: sale.name,
    path: `/sales/${sale.id}/goods`,
    kinds,
    goods: goods.map((good) => ({
      ...good,
      words: good.price === null ? "amount typed each time" : money(good.price),
      what: good.kind === "goods" ? "goods" : "gift",
    })),
    open,
    problem: shown.problem,
    values: shown.values ?? (open ? valuesOf(open, guild.currency) : { kind: "goods" }),
  };
  return reply.page("sales/goods", data, shown.problem?.status ?? 200);
}

const valuesOf = (good: GuildGoodRead, currency: string) => ({
  name: good.name,
  kind: good.kind,
  price: good.price === null ? "" : amountText(good.price, currency),
  taxKind: good.taxKind,
  position: String(good.position),
  retired: good.retired ? "yes" : "",
  version: String(good.version),
});
