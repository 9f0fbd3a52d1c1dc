import { editSale } from "../../actions/edit-sale.ts";
import { listKinds } from "../../database/kinds.ts";
import type { App, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { guildOf, saleOf, type WithId } from "./sale-of.ts";
import { readTerms } from "./terms-form.ts";
import { termsPage, termsValues } from "./terms-page.ts";
import { packed, textsOf } from "./terms-rows.ts";

const chair = { config: { access: ["chair"] as const } };

/** Tax, cash rounding and the last day's markdown of one sale. */
export async function termsPages(app: App): Promise<void> {
  app.get<WithId>("/sales/:id/terms", chair, async (request, reply) =>
    reply.page("sales/terms", await page(request, request.params.id)),
  );

  app.post<WithId>("/sales/:id/terms", chair, async (request, reply) => {
    const typed = packed(textsOf(request.body));
    const read = readTerms(typed, await guildOf(request));
    const { id } = await saleOf(request, request.params.id);
    const done = read.ok ? await editSale(request.deed(), id, read.value) : read;
    if (!done.ok) {
      const { status } = done.problem;
      return reply.page("sales/terms", await page(request, id, typed, done.problem), status);
    }
    const text = "The tills take this up at once when they are on line.";
    return reply.seeOther(`/sales/${id}`, { kind: "good", text: `Saved. ${text}` });
  });
}

async function page(
  request: Request,
  id: string,
  typed?: Record<string, string>,
  problem?: Problem,
) {
  const sale = await saleOf(request, id);
  const guild = await guildOf(request);
  const kinds = await listKinds(request.server.parts.db, { retired: true });
  return termsPage({ sale, guild, kinds, values: typed ?? termsValues(sale, guild), problem });
}
