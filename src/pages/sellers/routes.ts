import { setManySellers } from "../../actions/sellers/set-many-sellers.ts";
import { setSeller } from "../../actions/sellers/set-seller.ts";
import { policyOf } from "../../database/policies.ts";
import { findSeller, listSellers, type SellerRow } from "../../database/seller-list.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Policy } from "../../rules/policy/policy.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { hoursText } from "../../rules/shifts/shift-words.ts";
import { type Fields, tickedOf } from "../items/fields.ts";
import { saleOf, type WithId } from "../sales/sale-of.ts";
import { nextHref, searchOf, wantId } from "../want-id.ts";
import { manyChoices, readMany, readSeller } from "./form.ts";

const keepers = { config: { access: ["chair", "treasurer"] as const } };
const pageLength = 50;

type WithMember = { Params: { id: string; memberId: string } };
interface ListQuery {
  show?: string;
  q?: string;
  after?: string;
}

/** Under which terms members sell at a sale: visitors, committee, classes, and how they are paid. */
export async function sellerPages(app: App): Promise<void> {
  app.get<WithId>("/sales/:id/sellers", keepers, async (request, reply) =>
    listPage(request, reply),
  );

  app.post<WithId>("/sales/:id/sellers", keepers, async (request, reply) => {
    const sale = await saleOf(request, request.params.id);
    const read = readMany(request.body as Fields);
    const done = read.ok ? await setManySellers(request.deed(), sale.id, read.value) : read;
    if (!done.ok) return listPage(request, reply, done.problem);
    const { members } = done.value;
    const text = `Noted for ${members === 1 ? "1 member" : `${members} members`}.`;
    return reply.seeOther(request.url, { kind: "good", text });
  });

  app.get<WithMember>("/sales/:id/sellers/:memberId", keepers, async (request, reply) =>
    onePage(request, reply),
  );

  app.post<WithMember>("/sales/:id/sellers/:memberId", keepers, async (request, reply) => {
    const { sale, seller } = await sellerOf(request);
    const read = readSeller(request.body as Fields);
    const key = { saleId: sale.id, memberId: seller.memberId };
    const done = read.ok ? await setSeller(request.deed(), key, read.value) : read;
    if (!done.ok) return onePage(request, reply, done.problem);
    const after = await sellerOf(request);
    const text = `${seller.memberName}: the guild keeps ${after.seller.rateWords}.`;
    return reply.seeOther(`/sales/${sale.id}/sellers`, { kind: "good", text });
  });
}

async function sellerOf(request: Request) {
  const { db } = request.server.parts;
  const { id, memberId } = request.params as { id: string; memberId: string };
  const sale = await saleOf(request, id);
  const seller = await findSeller(db, sale.id, wantId(memberId, "this member"));
  if (!seller) throw notFound("this member");
  return { sale, seller };
}

async function listPage(request: Request, reply: Reply, problem?: Problem) {
  const { db } = request.server.parts;
  const sale = await saleOf(request, (request.params as { id: string }).id);
  const query = request.query as ListQuery;
  const [q, show] = [searchOf(query.q), query.show === "all" ? "all" : ""];
  const after = /^\d{1,4}$/.test(query.after ?? "") ? Number(query.after) : 0;
  const search = { q, inSale: show === "" && q === "", after, limit: pageLength };
  const { items, next } = await listSellers(db, sale.id, search);
  const { policy } = await policyOf(db, sale.id);
  const path = `/sales/${sale.id}/sellers`;
  const chosen = problem ? tickedOf(request.body as Fields, "memberIds") : [];
  const data = {
    title: `Members' terms at ${sale.name}`,
    ...{ sale, path, q, all: show === "all" },
    action: `${path}?${new URLSearchParams({ q, show, after: String(after) })}`,
    mayChange: allows(sale.stage, "set-terms"),
    filters: [
      { href: path, label: "Who sell here", current: search.inSale },
      { href: `${path}?show=all`, label: "All members", current: show === "all" },
    ],
    sellers: items.map((one) => row(one, policy, path, chosen)),
    choices: manyChoices(policy),
    next: nextHref(path, next === null ? null : String(next), { q, show }),
    ...(problem ? { problem, values: request.body } : {}),
  };
  return reply.page("sellers/list", data, problem?.status ?? 200);
}

const row = (one: SellerRow, policy: Policy, path: string, chosen: readonly string[]) => ({
  ...one,
  href: `${path}/${one.memberId}`,
  who: `${one.memberNumber} ${one.memberName}`,
  worked: one.minutesWorked === 0 ? "" : hoursText(one.minutesWorked),
  className: policy.rates.classes.find(({ code }) => code === one.classCode)?.name ?? "",
  ticked: chosen.includes(one.memberId),
});

async function onePage(request: Request, reply: Reply, problem?: Problem) {
  const { sale, seller } = await sellerOf(request);
  const { policy } = await policyOf(request.server.parts.db, sale.id);
  const yes = (on: boolean) => (on ? "yes" : "");
  const values = {
    ...{ visitor: yes(seller.visitor), committee: yes(seller.committee) },
    ...{ classCode: seller.classCode ?? "", payMethod: seller.payMethod ?? "" },
    ...{ payAll: yes(seller.payAll), version: String(seller.version) },
  };
  const data = {
    title: `${seller.memberNumber} ${seller.memberName}`,
    ...{ sale, seller, path: `/sales/${sale.id}/sellers` },
    facts: [
      { label: "The guild keeps of ordinary goods", value: seller.rateWords },
      { label: "Hours worked", value: hoursText(seller.minutesWorked) },
    ],
    mayChange: allows(sale.stage, "set-terms"),
    classes: policy.rates.classes.map(({ code, name }) => ({ value: code, label: name })),
    values: problem ? request.body : values,
    problem,
  };
  return reply.page("sellers/seller", data, problem?.status ?? 200);
}
