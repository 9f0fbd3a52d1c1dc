import * as z from "zod";
import { wholeRate } from "../rules/money.ts";
import { payoutMethods } from "../rules/statement.ts";
import { line, optionalLine } from "./text.ts";
import { versionNumber } from "./version.ts";

const rate = z
  .int("Give the percentage in thousandths of a percent")
  .min(0, "A percentage lies between 0 and 100.")
  .max(wholeRate, "A percentage lies between 0 and 100.");
const amount = z
  .int("Give the amount in whole smallest coins")
  .min(0, "Type an amount of zero or more.")
  .max(999_999_999, "This amount is too large.");
const minutes = z
  .int("Give the time in whole minutes")
  .min(1, "Type more than no time at all, such as 0:30.")
  .max(60_000, "The most are 999 hours.");
const code = line(20, "Give this class a short code").regex(
  /^[a-z0-9-]+$/,
  "Use small letters, digits and dashes.",
);

/** How many rows each list of a policy takes, here and on its page. */
export const mostRows = { classes: 20, kinds: 60, hours: 12, tenders: payoutMethods.length };

const ratesShape = z.strictObject({
  ordinary: rate,
  visitor: rate.nullable(),
  committee: rate.nullable(),
  classes: z
    .array(z.strictObject({ code, name: line(40, "Name this class of members."), rate }))
    .max(mostRows.classes),
  kinds: z
    .array(
      z.strictObject({
        kind: line(40, "Choose a kind from the guild's list."),
        /** Left out or outdated, it becomes the name on the guild's list. */
        name: optionalLine(60).default(""),
        rate,
        visitorsToo: z.boolean("Say whether it holds for visitors too"),
      }),
    )
    .max(mostRows.kinds),
  hours: z.array(z.strictObject({ fromMinutes: minutes, rate })).max(mostRows.hours),
});

const lossShape = z.discriminatedUnion(
  "rule",
  [
    z.strictObject({ rule: z.literal("none") }),
    z.strictObject({ rule: z.literal("price-less-share") }),
    z.strictObject({ rule: z.literal("capped"), cap: amount, aboveCap: rate }),
  ],
  "Choose what the guild pays for a missing piece.",
);

/** Everything a guild decides about money in one sale, as in `src/rules/policy`. */
export const policyShape = z.strictObject({
  rates: ratesShape,
  rounding: z.strictObject({
    basis: z.enum(["line", "statement"], "Choose where the guild's part is rounded."),
    halves: z.enum(["up", "even"], "Choose where a half goes."),
  }),
  fees: z.strictObject({
    entry: amount,
    firstEntry: amount.nullable(),
    late: amount,
    lateFor: z.enum(["member", "item"], "Choose how the late fee counts."),
    missedShift: amount,
  }),
  cardFee: z.strictObject({
    way: z.enum(["guild", "price", "charged", "before-share"], "Choose who bears the card fee."),
    rate,
    fixed: amount,
  }),
  loss: lossShape,
  payout: z.strictObject({
    minimum: amount,
    tenders: z
      .array(
        z.strictObject({
          method: z.enum(payoutMethods, "Choose cheque, transfer or cash."),
          upTo: amount.nullable(),
        }),
      )
      .max(mostRows.tenders),
  }),
});

/** A new policy names the version it replaces, so that two people cannot overwrite each other. */
export const policyChangeShape = z.strictObject({
  policy: policyShape,
  replaces: versionNumber,
  reason: optionalLine(200).default(""),
});

export type PolicyChangeInput = z.output<typeof policyChangeShape>;

const sections = z.array(z.object({ title: z.string(), sentences: z.array(z.string()) }));

export const policyShown = z.object({
  version: z.number().int(),
  policy: policyShape,
  words: sections,
  /** The percentage of the person who asks, as it stands, with its reason. */
  yours: z.string(),
});

export const policyVersionShown = z.object({
  version: z.number().int(),
  policy: policyShape,
  reason: z.string(),
  at: z.string(),
  /** Empty for what held before there were policies. */
  byName: z.string(),
});

export const policyTrialShape = z.strictObject({ policy: policyShape });

const coins = z.number().int();
const figures = z.object({
  ...{ guildShare: coins, cardFee: coins, fees: coins, losses: coins, balance: coins, paid: coins },
});

/** What another policy would mean, the greatest change first. */
export const policyEffectShown = z.object({
  /** The sale whose books show it: an earlier one while nothing is sold; null where there is none. */
  shownOn: z.object({ saleId: z.uuid(), name: z.string() }).nullable(),
  guild: z.object({ before: coins, after: coins, change: coins }).nullable(),
  items: z.array(
    z.object({
      ...{ memberId: z.uuid(), memberNumber: coins, memberName: z.string() },
      ...{ before: figures, after: figures, change: coins },
    }),
  ),
  next: z.string().nullable(),
});
