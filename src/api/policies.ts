import { z } from "zod";
import { changePolicy, soundPolicy } from "../actions/change-policy.ts";
import {
  policyChangeShape,
  policyEffectShown,
  policyShown,
  policyTrialShape,
  policyVersionShown,
} from "../contract/policy.ts";
import { bookToShow } from "../database/book-to-show.ts";
import type { Database } from "../database/client.ts";
import { ownRateOf } from "../database/own-rate.ts";
import { policiesOf, policyOf } from "../database/policies.ts";
import { findSale } from "../database/sales.ts";
import { notFound, orRefuse } from "../plugins/errors.ts";
import type { App } from "../plugins/types.ts";
import { formatMoney } from "../rules/currency.ts";
import { byGreatestChange, policyEffect } from "../rules/policy/effect.ts";
import type { Policy } from "../rules/policy/policy.ts";
import { rateWords } from "../rules/policy/rate-words.ts";
import { policyWords } from "../rules/policy/words/policy-words.ts";
import { pageOf, refusals, typed } from "./typed.ts";

const deciders = { access: ["chair", "treasurer"] as const };
const params = z.object({ id: z.uuid() });
const paging = z.object({
  after: z.coerce.number().int().min(0).max(1_000_000).default(0),
  limit: z.coerce.number().int().min(1).max(200).default(50),
});

/** What the guild keeps of a sale: what holds, how it came to be, and what another would mean. */
export async function policyApi(app: App): Promise<void> {
  await app.register(readingPolicies);
  await app.register(decidingPolicies);
}

async function readingPolicies(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.get("/sales/:id/policy", {
    config: { access: "signed-in" as const },
    schema: {
      tags: ["sales"],
      summary: "What the guild keeps, in figures and words, and the percentage of whoever asks",
      params,
      response: { 200: policyShown, ...refusals },
    },
    handler: async (request) => {
      const saleId = await known(db, request.params.id);
      const { version, policy, reason } = await ownRateOf(db, saleId, request.who().id);
      const { currency, locale } = await db.guild.findFirstOrThrow();
      const words = policyWords(policy, (amount) => formatMoney(amount, currency, locale));
      return { version, policy: plain(policy), words, yours: rateWords(reason) };
    },
  });

  route.get("/sales/:id/policies", {
    config: deciders,
    schema: {
      tags: ["sales"],
      summary: "Every version of a sale's policy with who, when and why, the newest first",
      params,
      querystring: paging,
      response: { 200: pageOf(policyVersionShown), ...refusals },
    },
    handler: async (request) => {
      const { after, limit } = request.query;
      const all = await policiesOf(db, await known(db, request.params.id));
      const rest = all.filter(({ version }) => after === 0 || version < after);
      const items = rest.slice(0, limit).map((one) => ({
        ...{ ...one, policy: plain(one.policy), at: one.at.toISOString() },
      }));
      return { items, next: rest.length > limit ? String(items.at(-1)!.version) : null };
    },
  });
}

async function decidingPolicies(app: App): Promise<void> {
  const route = typed(app);
  const { db } = app.parts;

  route.post("/sales/:id/policy/effect", {
    // It only works out figures, so asking twice is the same as asking once.
    config: { ...deciders, keyless: true },
    schema: {
      tags: ["sales"],
      summary: "What another policy would mean for every member, the greatest change first",
      params,
      querystring: paging,
      body: policyTrialShape,
      response: { 200: policyEffectShown, ...refusals },
    },
    handler: async (request) => {
      const saleId = await known(db, request.params.id);
      const policy = orRefuse(await soundPolicy(db, request.body.policy));
      return effectOf(db, saleId, policy, request.query);
    },
  });

  route.post("/sales/:id/policies", {
    config: deciders,
    schema: {
      tags: ["sales"],
      summary: "A new policy: a new version, beside those that held before",
      params,
      body: policyChangeShape,
      response: { 201: z.object({ version: z.number().int() }), ...refusals },
    },
    handler: async (request, reply) => {
      const given = { saleId: request.params.id, ...request.body };
      return reply.code(201).send(orRefuse(await changePolicy(request.deed(), given)));
    },
  });
}

async function known(db: Database, id: string): Promise<string> {
  if (!(await findSale(db, id))) throw notFound("this sale");
  return id;
}

async function effectOf(
  db: Database,
  saleId: string,
  policy: Policy,
  { after, limit }: z.output<typeof paging>,
) {
  const shown = await bookToShow(db, saleId);
  if (!shown) return { shownOn: null, guild: null, items: [], next: null };
  const standing = await policyOf(db, saleId);
  const { guild, members } = policyEffect(shown.book, standing.policy, policy);
  const sorted = members.toSorted(byGreatestChange);
  return {
    shownOn: { saleId: shown.saleId, name: shown.saleName },
    guild,
    items: sorted
      .slice(after, after + limit)
      .map((one) => ({ ...one, memberName: shown.names.get(one.memberId) ?? "" })),
    next: after + limit < sorted.length ? String(after + limit) : null,
  };
}

/** A policy's lists are read-only in the rules; an answer is a value of its own. */
const plain = (policy: Policy) =>
  structuredClone(policy) as z.output<typeof policyTrialShape>["policy"];
