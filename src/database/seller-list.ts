import { guildRateOf, type Seller } from "../rules/policy/guild-rate.ts";
import type { PayoutWish } from "../rules/policy/payout.ts";
import type { Policy } from "../rules/policy/policy.ts";
import { rateWords } from "../rules/policy/rate-words.ts";
import type { Database } from "./client.ts";
import { policyOf } from "./policies.ts";
import { literal } from "./search.ts";
import { sellersOf } from "./sellers.ts";

/** A member's terms in a sale, and what the guild keeps of ordinary goods because of them. */
export interface SellerRow {
  memberId: string;
  memberNumber: number;
  memberName: string;
  visitor: boolean;
  committee: boolean;
  classCode: string | null;
  payMethod: PayoutWish["method"];
  payAll: boolean;
  /** 0 as long as nothing was noted. */
  version: number;
  minutesWorked: number;
  rate: number;
  rateWords: string;
}

export interface SellerSearch {
  q?: string | undefined;
  /** Only those who have to do with the sale; else every active member. */
  inSale?: boolean | undefined;
  /** The last member number seen. */
  after?: number | undefined;
  limit: number;
}

const ordinary = { kind: "", donated: false };
const nothing: Seller = { visitor: false, committee: false, classCode: null, minutesWorked: 0 };

/** Members by number with their terms; finds parts of names, and whole numbers. */
export async function listSellers(db: Database, saleId: string, search: SellerSearch) {
  const { q = "", inSale = false, after = 0, limit } = search;
  const { policy } = await policyOf(db, saleId);
  const sellers = new Map((await sellersOf(db, saleId)).map((one) => [one.memberId, one]));
  const number = /^\d{1,4}$/.test(q) ? [{ number: Number(q) }] : [];
  const members = await db.member.findMany({
    where: {
      number: { gt: after },
      AND: [
        q ? { OR: [{ name: { contains: literal(q), mode: "insensitive" } }, ...number] } : {},
        inSale
          ? { id: { in: [...sellers.keys()] } }
          : { OR: [{ status: "active" }, { id: { in: [...sellers.keys()] } }] },
      ],
    },
    select: { id: true, number: true, name: true, sellers: { where: { saleId } } },
    orderBy: { number: "asc" },
    take: limit + 1,
  });
  const items = members.slice(0, limit).map(({ id, number, name, sellers: [noted] }) => {
    const one = sellers.get(id);
    const wish = { payMethod: one?.wish.method ?? null, payAll: one?.wish.payAll ?? false };
    return {
      ...{ memberId: id, memberNumber: number, memberName: name },
      ...{ ...(one?.seller ?? nothing), ...wish, version: noted?.version ?? 0 },
      ...rateOf(policy, one?.seller ?? nothing),
    };
  });
  const next = members.length > limit ? (items.at(-1)?.memberNumber ?? null) : null;
  return { items: items satisfies SellerRow[], next };
}

/** One member's terms, whether or not anything was noted; null for nobody. */
export async function findSeller(
  db: Database,
  saleId: string,
  memberId: string,
): Promise<SellerRow | null> {
  const member = await db.member.findUnique({
    where: { id: memberId },
    select: { number: true, name: true, sellers: { where: { saleId } } },
  });
  if (!member) return null;
  const { policy } = await policyOf(db, saleId);
  const [one] = await sellersOf(db, saleId, memberId);
  const seller = one?.seller ?? nothing;
  return {
    ...{ memberId, memberNumber: member.number, memberName: member.name, ...seller },
    payMethod: one?.wish.method ?? null,
    payAll: one?.wish.payAll ?? false,
    version: member.sellers[0]?.version ?? 0,
    ...rateOf(policy, seller),
  };
}

function rateOf({ rates }: Policy, seller: Seller): { rate: number; rateWords: string } {
  const { rate, reason } = guildRateOf(rates, seller, ordinary);
  return { rate, rateWords: rateWords(reason) };
}
