import { checkPolicy } from "../policy/check-policy.ts";
import type { PayoutMethod } from "../statement.ts";
import type { Hindrance, HindranceFacts } from "./hindrance.ts";
import { counted, named } from "./words.ts";

export function shifts({
  shifts: { count, members },
  policy,
  saleId,
}: HindranceFacts): Hindrance[] {
  if (count === 0) return [];
  const byHours = policy.rates.hours.length > 0;
  const byFee = policy.fees.missedShift > 0;
  const why = [
    byHours ? "the guild percentage follows the hours worked" : "",
    byFee ? "a missed shift has a fee" : "",
  ].filter(Boolean);
  const because = why.length > 0 ? ` They decide about money: ${why.join(", and ")}.` : "";
  return [
    {
      kind: "shifts",
      must: byHours || byFee,
      count,
      words: `${counted(count, "shift has", "shifts have")} no tick yet, of ${named(members.map(String), "member", "members")}.${because}`,
      action: { label: "Tick the shifts", href: `/sales/${saleId}/shifts?show=open` },
    },
  ];
}

/** A class that the policy does not know would quietly be counted as no class. */
export function classes({ wishes, policy, saleId }: HindranceFacts): Hindrance[] {
  const known = new Set(policy.rates.classes.map(({ code }) => code));
  const lost = wishes.filter(({ classCode }) => classCode !== null && !known.has(classCode));
  if (lost.length === 0) return [];
  const names = named(
    lost.map(({ member, classCode }) => `${member} (${classCode})`),
    "Member",
    "Members",
  );
  return [
    {
      kind: "member-class",
      must: true,
      count: lost.length,
      words: `${names} ${lost.length === 1 ? "is" : "are"} in a class of members that the policy of this sale does not have.`,
      action: { label: "Look at the members' terms", href: `/sales/${saleId}/sellers` },
    },
  ];
}

export const policyFaults = ({ policy, saleId }: HindranceFacts): Hindrance[] =>
  checkPolicy(policy).map(({ message }) => ({
    kind: "policy",
    must: true,
    count: 1,
    words: `The policy of this sale cannot be used as it is. ${message}`,
    action: { label: "Mend the policy", href: `/sales/${saleId}/policy` },
  }));

const methodWords: Record<PayoutMethod, string> = {
  cheque: "by cheque",
  transfer: "by transfer",
  cash: "in cash",
};

/** Such a wish is passed over, and the first way that fits pays. */
export function payWishes({ wishes, policy, saleId }: HindranceFacts): Hindrance[] {
  const offered = new Set(policy.payout.tenders.map(({ method }) => method));
  const other = wishes.filter(({ payMethod }) => payMethod !== null && !offered.has(payMethod));
  if (other.length === 0) return [];
  const names = other.map(({ member, payMethod }) => `${member} ${methodWords[payMethod!]}`);
  return [
    {
      kind: "pay-wish",
      must: false,
      count: other.length,
      words: `${named(names, "Member", "Members")}: so ${other.length === 1 ? "this member wishes" : "these members wish"} to be paid, and this sale does not pay so.`,
      action: { label: "Look at the members' terms", href: `/sales/${saleId}/sellers` },
    },
  ];
}
