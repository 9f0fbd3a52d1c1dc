import { finaliseSettlement } from "../../actions/finalise-settlement.ts";
import { finaliseShape } from "../../contract/settlement.ts";
import { listTills } from "../../database/sales.ts";
import { previewSettlement } from "../../database/settlement-preview.ts";
import { proposalOf } from "../../database/settlement-proposal.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";
import { previewPage } from "./preview-page.ts";
import { books, guildWords, numberAfter, saleNamed, type WithSale } from "./scene.ts";

/** Settling a sale: look at who is owed what, then finalise exactly that. */
export async function settlementPages(app: App): Promise<void> {
  app.get<WithSale>("/books/:saleId/settlement", books, async (request, reply) =>
    reply.page("books/preview", await preview(request)),
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
  const tills = await listTills(db, sale.id);
  const figures = await previewSettlement(db, sale.id);
  return previewPage({
    sale,
    guild: await guildWords(request),
    preview: figures,
    proposal: await proposalOf(db, sale.id, figures.fingerprint, request.who().id),
    openTills: tills.filter(({ open }) => open).map(({ number }) => `till ${number}`),
    after: numberAfter((request.query as { after?: string }).after),
    ...(problem ? { problem } : {}),
  });
}
