import { finaliseSettlement } from "../../actions/finalise-settlement.ts";
import { finaliseShape } from "../../contract/settlement.ts";
import { hindrancesOf } from "../../database/hindrances.ts";
import { sellersOf } from "../../database/sellers.ts";
import { previewSettlement } from "../../database/settlement-preview.ts";
import { proposalOf } from "../../database/settlement-proposal.ts";
import { notFound } from "../../plugins/errors.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { searchOf, wantId } from "../want-id.ts";
import { hindrancesPage } from "./hindrances-page.ts";
import { previewMemberPage } from "./preview-member.ts";
import { previewPage } from "./preview-page.ts";
import { books, guildWords, numberAfter, saleNamed, type WithSale } from "./scene.ts";

type WithMember = { Params: { saleId: string; memberId: string } };

/** Settling a sale: look at who is owed what, then finalise exactly that. */
export async function settlementPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/settlement", books, async (request, reply) => {
    const page = await preview(request);
    // Whoever is asked about one member wants that member's page, not a list of one.
    const [only, another] = page.members;
    if (page.q !== "" && only && !another) return reply.seeOther(only.href);
    return reply.page("books/preview", page);
  });

  app.get<WithMember>(
    "/books/:saleId/settlement/members/:memberId",
    books,
    async (request, reply) =>
      reply.page("books/preview-member", await memberPage(request as Request)),
  );

  app.get<WithSale>("/books/:saleId/settlement/finalise", books, async (request, reply) =>
    reply.page("books/finalise", await preview(request)),
  );

  app.post<WithSale>("/books/:saleId/settlement/finalise", books, async (request, reply) => {
    const sale = await saleNamed(request, request.params.saleId);
    const read = readForm(finaliseShape, request.body);
    const done = read.ok
      ? await finaliseSettlement(request.deed(), { saleId: sale.id, ...read.value })
      : read;
    if (!done.ok) {
      const page = await preview(request, done.problem);
      return reply.page("books/preview", page, done.problem.status);
    }
    if (done.value.state === "proposed")
      return reply.seeOther(`/books/${sale.id}/settlement`, {
        kind: "info",
        title: "A second person is needed",
        text: "Your part is recorded. Somebody else with the books now settles the same figures.",
      });
    return reply.seeOther(`/books/settlements/${done.value.settlementId}`, {
      kind: "good",
      title: "The sale is settled",
      text: `${done.value.statements} statements are ready to print and to pay.`,
    });
  });
}

async function preview(request: Request, problem?: Problem) {
  const { db } = request.server.parts;
  const { saleId } = request.params as { saleId: string };
  const sale = await saleNamed(request, saleId);
  const { q, after } = request.query as { q?: string; after?: string };
  const figures = await previewSettlement(db, sale.id);
  const page = previewPage({
    sale,
    guild: await guildWords(request),
    preview: figures,
    proposal: await proposalOf(db, sale.id, figures.fingerprint, request.who().id),
    q: searchOf(q),
    after: numberAfter(after),
    ...(problem ? { problem } : {}),
  });
  return { ...page, way: hindrancesPage(await hindrancesOf(db, sale.id)) };
}

/** The whole settlement is worked out, since a fee for cards is shared out over everybody. */
async function memberPage(request: Request) {
  const { db } = request.server.parts;
  const { saleId, memberId } = request.params as { saleId: string; memberId: string };
  const sale = await saleNamed(request, saleId);
  const person = await db.member.findUnique({ where: { id: wantId(memberId, "this member") } });
  if (!person) throw notFound("this member");
  const { members, policy } = await previewSettlement(db, sale.id);
  const [seller] = await sellersOf(db, sale.id, memberId);
  return previewMemberPage({
    ...{ sale, policy, seller, memberId },
    guild: await guildWords(request),
    member: members.find((one) => one.memberId === memberId),
    name: `${person.number} ${person.name}`,
    after: numberAfter((request.query as { after?: string }).after),
  });
}
