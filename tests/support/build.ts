import type { Database } from "../../src/database/client.ts";
import type { Deed } from "../../src/database/perform.ts";
import { firstKinds } from "../../src/rules/kinds.ts";
import { firstPolicy } from "../../src/rules/policy/policy.ts";
import type { Role } from "../../src/rules/roles.ts";
import { flatTax } from "../../src/rules/tax/tax-rules.ts";

/** An invented guild, straight into the tables: tests of the set-up itself go through the action. */
export async function buildGuild(db: Database, more: object = {}) {
  await db.kind.createMany({
    data: firstKinds.map((kind, index) => ({ ...kind, position: index + 1 })),
  });
  return db.guild.create({
    data: {
      name: "Alder Creek Weavers",
      currency: "USD",
      locale: "en-US",
      timeZone: "America/Chicago",
      ...more,
    },
  });
}

/** A member with the next number and the given roles. */
export async function buildMember(db: Database, roles: Role[] = ["member"], more: object = {}) {
  const last = await db.member.aggregate({ _max: { number: true } });
  const number = (last._max.number ?? 99) + 1;
  return db.member.create({
    data: { number, name: `Weaver ${number}`, email: `w${number}@example.org`, roles, ...more },
  });
}

/** A sale at any stage, with sensible figures: 20 % to the guild, 8.25 % tax. */
export async function buildSale(db: Database, more: object = {}) {
  const day = (text: string) => new Date(`${text}T00:00:00Z`);
  const sale = await db.sale.create({
    data: {
      name: "Autumn sale",
      place: "Mill hall",
      firstDay: day("2026-11-27"),
      lastDay: day("2026-11-29"),
      entryDeadline: new Date("2026-11-20T23:59:00Z"),
      policies: { create: { version: 1, policy: firstPolicy(20_000) as object } },
      taxRules: flatTax(8_250, "Sales tax") as object,
      priceStep: 100n,
      priceFloor: 500n,
      stage: "entries-open",
      ...more,
    },
  });
  await db.agreement.create({
    data: { saleId: sale.id, version: 1, text: "Everything is my own work." },
  });
  return sale;
}

/** Acts as a member without a request around it. */
export const deedOf = (
  db: Database,
  member: { id: string; number: number; name: string; roles: string[] },
  key?: string,
): Deed => ({
  db,
  actor: { id: member.id, number: member.number, name: member.name, roles: member.roles as Role[] },
  requestId: "test",
  ...(key ? { key } : {}),
});
