import { checkInItems } from "../../actions/check-in-items.ts";
import type { DeskTally } from "../../actions/desk-goods.ts";
import { entriesAllowed } from "../../actions/entry-rules.ts";
import { pickUpItems } from "../../actions/pick-up-items.ts";
import { mostTicks, tagsShape } from "../../contract/desk.ts";
import { deskProgress, listDeskMembers } from "../../database/desk.ts";
import { listItems, type ShownItem } from "../../database/items.ts";
import type { SaleRead } from "../../database/sales.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { type GuildWords, rowOf } from "../items/words.ts";
import { readForm } from "../read-form.ts";
import { modeOf, saleAtDesk } from "./place.ts";
import { tallyNotice } from "./tally.ts";

type WithNumber = { Params: { number: string } };
const helps = { config: { access: ["desk", "chair"] as const } };
const pageSize = 50;

/** The members who bring pieces, and each member's list with what has come and what has not. */
export async function deskMemberPages(app: App): Promise<void> {
  app.get("/desk/members", helps, async (request, reply) => {
    const query = request.query as Fields;
    const sale = await saleAtDesk(request, query);
    if (!sale) return reply.page("desk/no-sale", { title: "Desk" });
    return reply.page("desk/members", await membersPage(request, sale, query));
  });

  app.get<WithNumber>("/desk/members/:number", helps, async (request, reply) =>
    memberPage(request, reply, await scene(request, request.query as Fields)),
  );

  for (const [path, act] of [
    ["check-ins", checkInItems],
    ["pick-ups", pickUpItems],
  ] as const)
    app.post<WithNumber>(`/desk/members/:number/${path}`, helps, async (request, reply) => {
      const at = await scene(request, request.body as Fields);
      const read = readForm(tagsShape, { tags: ticked(request.body as Fields) });
      const done: Result<DeskTally> = read.ok
        ? await act(request.deed(), { saleId: at.sale.id, tags: read.value.tags })
        : read;
      if (!done.ok) return memberPage(request, reply, at, done.problem);
      return reply.seeOther(`/desk/members/${at.member.number}?sale=${at.sale.id}`, {
        ...tallyNotice(done.value, path === "check-ins" ? "taken in" : "handed back"),
      });
    });
}

/** One ticked box arrives as a text, several as a list. */
const ticked = (body: Fields): unknown[] => (Object.hasOwn(body, "tags") ? [body.tags].flat() : []);

async function scene(request: Request, given: Fields) {
  const sale = await saleAtDesk(request, given);
  const { number } = request.params as { number: string };
  const known = /^\d{1,4}$/.test(number) ? Number(number) : 0;
  const { db } = request.server.parts;
  const member = await db.member.findUnique({ where: { number: known } });
  if (!sale || !member) throw notFound(`member ${number.slice(0, 10)}`);
  return { sale, member };
}

type Scene = Awaited<ReturnType<typeof scene>>;

async function memberPage(
  request: Request,
  reply: Reply,
  { sale, member }: Scene,
  problem?: Problem,
) {
  const { db } = request.server.parts;
  const guild = await db.guild.findFirstOrThrow();
  const after = textOf((request.query ?? {}) as Fields, "after") || undefined;
  const filter = { saleId: sale.id, memberId: member.id };
  const { items, next } = await listItems(db, filter, { after, limit: mostTicks });
  const progress = await deskProgress(db, sale.id, member.id);
  const here = `/desk/members/${member.number}?sale=${sale.id}`;
  const data = {
    title: `Member ${member.number}`,
    ...{ problem, progress, saleId: sale.id, saleName: sale.name, number: member.number },
    name: member.name,
    came: progress.entered - progress.toCome,
    ...lists(items, modeOf(sale), guild),
    nextHref: next && `${here}&after=${next}`,
    deskHref: `/desk?sale=${sale.id}`,
    mayEnter: entriesAllowed(sale, request.who(), request.server.now()).ok,
    newHref: `/items/new?sale=${sale.id}&member=${member.number}`,
    stockListHref: `/sales/${sale.id}/items/stock-list.pdf?member=${member.number}`,
    tagsHref: `/tags?sale=${sale.id}&whose=member&member=${member.number}`,
  };
  return reply.page("desk/member", data, problem?.status ?? 200);
}

/** What can be ticked at this stage comes first; the rest is there to be looked at. */
function lists(items: ShownItem[], mode: ReturnType<typeof modeOf>, guild: GuildWords) {
  const here = ({ pieces, state }: ShownItem) =>
    mode === "check-in"
      ? pieces.withMember > 0 && state !== "withdrawn"
      : mode === "pick-up" && pieces.onFloor > 0;
  const row = (item: ShownItem) => ({
    ...rowOf(item, guild),
    tag: item.tag,
    href: `/desk/items/${item.tag}`,
    count: mode === "check-in" ? item.pieces.withMember : item.pieces.onFloor,
  });
  return {
    takesIn: mode === "check-in",
    handsBack: mode === "pick-up",
    open: items.filter(here).map(row),
    rest: items.filter((item) => !here(item)).map(row),
  };
}

async function membersPage(request: Request, sale: SaleRead, query: Fields) {
  const { db } = request.server.parts;
  const q = textOf(query, "q")
    .replace(/\p{Cc}/gu, "")
    .slice(0, 100);
  const after = Number(/^\d{1,4}$/.exec(textOf(query, "after"))?.[0] ?? 0);
  const rows = await listDeskMembers(db, sale.id, { q, after, limit: pageSize + 1 });
  const members = rows.slice(0, pageSize).map((row) => ({
    ...row,
    href: `/desk/members/${row.number}?sale=${sale.id}`,
    came: row.entered - row.toCome,
    all: row.toCome === 0,
  }));
  const path = `/desk/members?sale=${sale.id}${q ? `&q=${encodeURIComponent(q)}` : ""}`;
  const last = members.at(-1)?.number;
  return {
    title: "Members at the desk",
    ...{ q, members, saleId: sale.id, saleName: sale.name },
    deskHref: `/desk?sale=${sale.id}`,
    nextHref: rows.length > pageSize ? `${path}&after=${last}` : undefined,
  };
}
