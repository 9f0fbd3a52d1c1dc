import type { SaleInput } from "../contract/sale.ts";
import { type Deed, perform } from "../database/perform.ts";
import { firstPolicy } from "../rules/policy/policy.ts";
import { type FieldError, ok, problem, type Result } from "../rules/problem.ts";
import { checkSaleDates } from "../rules/sale-dates.ts";
import { checkTaxRules } from "../rules/tax/check-tax-rules.ts";
import type { TaxRules } from "../rules/tax/tax-rules.ts";

/** Plans a sale, with the first wording of what members agree to and the first policy. */
export const addSale = (deed: Deed, input: SaleInput): Promise<Result<{ id: string }>> =>
  perform(
    deed,
    "add-sale",
    input,
    async (tx) => {
      const guild = await tx.guild.findFirstOrThrow();
      const errors = [...checkSaleDates(input, guild.timeZone), ...taxErrors(input.tax)];
      if (errors[0])
        return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
      const { agreement, kindLimits, tax, guildRate, ...fields } = input;
      const { id } = await tx.sale.create({
        data: { ...fields, ...stored(input), taxRules: json(tax) },
      });
      await tx.agreement.create({ data: { saleId: id, version: 1, text: agreement } });
      await tx.salePolicy.create({
        data: {
          ...{ saleId: id, version: 1, byId: deed.actor.id },
          policy: json(firstPolicy(guildRate)),
        },
      });
      await tx.kindLimit.createMany({
        data: kindLimits.map((limit) => ({ saleId: id, ...limit })),
      });
      return ok({ value: { id }, subjectId: id, detail: { name: input.name } });
    },
    unknownKind,
  );

/** What is wrong with the tax, by the fields of the sale. */
export const taxErrors = (tax: TaxRules): FieldError[] =>
  checkTaxRules(tax).map(({ field, message }) => ({ field: `tax.${field}`, message }));

/** Plain JSON for a column: nothing undefined in it. */
export const json = (rules: object) => JSON.parse(JSON.stringify(rules));

type Stored = Pick<
  SaleInput,
  "firstDay" | "lastDay" | "entryDeadline" | "priceStep" | "priceFloor" | "markdownFrom"
>;

/** The fields that the database keeps in other types than the shape has. */
export const stored = (input: Stored) => ({
  firstDay: new Date(`${input.firstDay}T00:00:00Z`),
  lastDay: new Date(`${input.lastDay}T00:00:00Z`),
  entryDeadline: new Date(input.entryDeadline),
  priceStep: BigInt(input.priceStep),
  priceFloor: BigInt(input.priceFloor),
  markdownFrom: input.markdownFrom === null ? null : new Date(input.markdownFrom),
});

export const unknownKind = {
  kind_limit_kind_id_fkey: () =>
    problem("invalid-input", "A limit names a kind that is not on the guild's list.", [
      { field: "kindLimits", message: "Choose kinds from the guild's list." },
    ]),
};
