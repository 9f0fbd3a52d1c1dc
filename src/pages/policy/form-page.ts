import { listKinds } from "../../database/kinds.ts";
import { policyOf } from "../../database/policies.ts";
import type { Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { guildWords } from "../books/scene.ts";
import { saleOf } from "../sales/sale-of.ts";
import type { Typed } from "../sales/terms-rows.ts";
import { changePage } from "./change-page.ts";
import { onForm } from "./form.ts";
import { policyValues } from "./values.ts";

/** The form as it was typed, or as the policy stands. */
export async function formPage(request: Request, typed?: Typed, problem?: Problem) {
  const { db } = request.server.parts;
  const { id } = request.params as { id: string };
  const sale = await saleOf(request, id);
  const guild = await guildWords(request);
  const kinds = await listKinds(db, { retired: true });
  const values = typed ?? policyValues(await policyOf(db, sale.id), guild.currency);
  return changePage({ sale, guild, kinds, values, problem: problem && named(problem) });
}

const named = (problem: Problem): Problem => ({
  ...problem,
  errors: problem.errors.map(({ field, message }) => ({ field: onForm(field), message })),
});
