import { judgePolicyChange } from "../../actions/change-policy.ts";
import { bookToShow } from "../../database/book-to-show.ts";
import type { App, Request } from "../../plugins/types.ts";
import { policyEffect } from "../../rules/policy/effect.ts";
import type { Policy } from "../../rules/policy/policy.ts";
import { guildWords, numberAfter } from "../books/scene.ts";
import { saleOf, type WithId } from "../sales/sale-of.ts";
import { textsOf } from "../sales/terms-rows.ts";
import { searchOf } from "../want-id.ts";
import { effectPage } from "./effect-page.ts";
import { readPolicy } from "./form.ts";
import { formPage } from "./form-page.ts";
import { packed } from "./rows.ts";

/**
 * What a policy would mean, before it is decided. What was typed travels on in hidden fields and
 * nothing is kept here, so the figures are worked out anew for each page of members.
 */
export async function effectPages(app: App): Promise<void> {
  const deciders = { config: { access: ["chair", "treasurer"] as const } };
  app.post<WithId>("/sales/:id/policy/effect", deciders, async (request, reply) => {
    const typed = packed(textsOf(request.body));
    if (typed.go === "rows") return reply.page("policy/change", await formPage(request, typed));
    const sale = await saleOf(request, request.params.id);
    const guild = await guildWords(request);
    const read = readPolicy(typed, guild.currency);
    const judged = read.ok ? await judgePolicyChange(app.parts.db, sale, read.value) : read;
    if (!judged.ok) {
      const page = await formPage(request, typed, judged.problem);
      return reply.page("policy/change", page, judged.problem.status);
    }
    const { before, policy } = judged.value;
    const shown = await shownOn(request, sale.id, before, policy);
    const page = Math.max(1, numberAfter(typed.page));
    const parts = { sale, guild, before, policy, shown, typed, page, q: searchOf(typed.q) ?? "" };
    return reply.page("policy/effect", effectPage(parts));
  });
}

async function shownOn(request: Request, saleId: string, before: Policy, policy: Policy) {
  const scene = await bookToShow(request.server.parts.db, saleId);
  return scene && { scene, effect: policyEffect(scene.book, before, policy) };
}
