import type { Database } from "../../database/client.ts";
import { listKinds } from "../../database/kinds.ts";
import type { SaleRead } from "../../database/sales.ts";
import { amountText } from "../../rules/currency.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { localTimeOf } from "../../rules/zoned-time.ts";
import type { FormGuild } from "./form.ts";

/** A first wording that most sales can start from; the chair changes it as the guild likes. */
const firstAgreement = [
  "What I bring is my own handwork, and I describe it truthfully.",
  "I set my prices myself and accept that the guild keeps its percentage of what sells.",
  "I bring my goods tagged at the time given and fetch what is unsold when the sale ends.",
  "The guild looks after my goods with care, but cannot pay for loss or damage.",
].join("\n");

/** What stands in the form of a sale that is not planned yet. */
export const firstValues = (guild: FormGuild) => ({
  guildRate: "20",
  taxRate: "0",
  taxLabel: "Sales tax",
  priceStep: amountText(100, guild.currency),
  priceFloor: amountText(100, guild.currency),
  agreement: firstAgreement,
});

export const valuesOf = (sale: SaleRead, guild: FormGuild) => ({
  ...sale,
  version: String(sale.version),
  entryDeadline: localTimeOf(sale.entryDeadline, guild.timeZone),
  priceStep: amountText(sale.priceStep, guild.currency),
  priceFloor: amountText(sale.priceFloor, guild.currency),
  itemLimit: sale.itemLimit === null ? "" : String(sale.itemLimit),
  ...Object.fromEntries(
    sale.kindLimits.map(({ kindId, most }) => [`kindLimits.${kindId}`, String(most)]),
  ),
});

interface Filling {
  db: Database;
  guild: FormGuild;
  values: unknown;
  sale?: SaleRead;
  problem?: Problem | undefined;
}

/** The form of a sale, new or planned already. */
export async function saleFormPage({ db, guild, values, sale, problem }: Filling) {
  const kinds = await listKinds(db);
  return {
    title: sale ? `Change ${sale.name}` : "Plan a sale",
    action: sale ? `/sales/${sale.id}/edit` : "/sales",
    backHref: sale ? `/sales/${sale.id}` : "/sales",
    back: sale ? sale.name : "Sales",
    isNew: !sale,
    frozen: sale !== undefined && !allows(sale.stage, "edit-sale-rates"),
    timeZone: guild.timeZone,
    kindFields: kinds.map(({ id, name }) => ({ field: `kindLimits.${id}`, name })),
    limitsOpen:
      (sale?.kindLimits.length ?? 0) > 0 ||
      problem?.errors.some(({ field }) => field.startsWith("kindLimits")),
    values,
    problem,
  };
}
