import { changePolicy, refusedNow } from "../../actions/change-policy.ts";
import { policiesOf } from "../../database/policies.ts";
import type { App } from "../../plugins/types.ts";
import { guildWords, numberAfter } from "../books/scene.ts";
import { saleOf, type WithId } from "../sales/sale-of.ts";
import { textsOf } from "../sales/terms-rows.ts";
import { effectPages } from "./effect-routes.ts";
import { readPolicy } from "./form.ts";
import { formPage } from "./form-page.ts";
import { policyPage } from "./policy-page.ts";
import { packed } from "./rows.ts";

/** Who decides about money. */
const deciders = { config: { access: ["chair", "treasurer"] as const } };

/** What the guild keeps of a sale: what holds, how it came to be, and changing it. */
export async function policyPages(app: App): Promise<void> {
  app.get<WithId & { Querystring: { after?: string } }>(
    "/sales/:id/policy",
    deciders,
    async (request, reply) => {
      const sale = await saleOf(request, request.params.id);
      const versions = await policiesOf(app.parts.db, sale.id);
      const frozen = (await refusedNow(app.parts.db, sale))?.problem.detail;
      const after = numberAfter(request.query.after);
      const guild = await guildWords(request);
      return reply.page("policy/policy", policyPage({ sale, guild, versions, after, frozen }));
    },
  );

  app.get<WithId>("/sales/:id/policy/change", deciders, async (request, reply) =>
    reply.page("policy/change", await formPage(request)),
  );

  /** The way back from what a change would mean: the form as it was typed. */
  app.post<WithId>("/sales/:id/policy/change", deciders, async (request, reply) =>
    reply.page("policy/change", await formPage(request, packed(textsOf(request.body)))),
  );

  app.post<WithId>("/sales/:id/policies", deciders, async (request, reply) => {
    const { id } = await saleOf(request, request.params.id);
    const typed = packed(textsOf(request.body));
    const read = readPolicy(typed, (await guildWords(request)).currency);
    const done = read.ok ? await changePolicy(request.deed(), { saleId: id, ...read.value }) : read;
    if (!done.ok) {
      const page = await formPage(request, typed, done.problem);
      return reply.page("policy/change", page, done.problem.status);
    }
    const text = "Members who had agreed already see on their start page what changed and why.";
    return reply.seeOther(`/sales/${id}/policy`, { kind: "good", title: "Decided", text });
  });
  await app.register(effectPages);
}
