import type { FeeFacts } from "../rules/policy/fees.ts";
import type { Seller } from "../rules/policy/guild-rate.ts";
import type { PayoutWish } from "../rules/policy/payout.ts";
import type { PayoutMethod } from "../rules/statement.ts";
import type { Database, Transaction } from "./client.ts";

/** Everything about a member in a sale that the guild's policy asks for. */
export interface SellerRead {
  memberId: string;
  memberNumber: number;
  memberName: string;
  seller: Seller;
  facts: FeeFacts;
  wish: PayoutWish;
}

interface Row extends Seller, FeeFacts {
  memberId: string;
  memberNumber: number;
  memberName: string;
  payMethod: PayoutMethod | null;
  payAll: boolean;
}

/**
 * Whoever has to do with a sale: entered something, sold something, promised a shift, has an
 * adjustment or terms of their own. By member number; with `memberId` that member alone.
 */
export async function sellersOf(
  db: Database | Transaction,
  saleId: string,
  memberId: string | null = null,
): Promise<SellerRead[]> {
  const rows = await db.$queryRaw<Row[]>`
    WITH entered AS (
      SELECT i.member_id, count(*)::int AS items,
        (count(*) FILTER (WHERE i.entered_at > s.entry_deadline))::int AS late
      FROM item i JOIN sale s ON s.id = i.sale_id
      WHERE i.sale_id = ${saleId}::uuid AND i.withdrawn_at IS NULL GROUP BY i.member_id),
    work AS (
      SELECT member_id, coalesce(sum(minutes_worked), 0)::int AS minutes,
        (count(*) FILTER (WHERE mark = 'missed'))::int AS missed
      FROM shift WHERE sale_id = ${saleId}::uuid AND withdrawn_at IS NULL GROUP BY member_id),
    people AS (
      SELECT member_id FROM entered UNION SELECT member_id FROM work
      UNION SELECT member_id FROM sale_seller WHERE sale_id = ${saleId}::uuid
      UNION SELECT member_id FROM adjustment WHERE sale_id = ${saleId}::uuid
      UNION SELECT l.member_id FROM credited_line l JOIN receipt r ON r.id = l.receipt_id
        WHERE r.sale_id = ${saleId}::uuid),
    earlier AS (
      SELECT DISTINCT i.member_id FROM item i JOIN sale o ON o.id = i.sale_id JOIN sale s ON s.id = ${saleId}::uuid
      WHERE o.first_day < s.first_day AND i.withdrawn_at IS NULL)
    SELECT m.id AS "memberId", m.number AS "memberNumber", m.name AS "memberName",
      coalesce(t.visitor, false) AS visitor, coalesce(t.committee, false) AS committee,
      t.class_code AS "classCode", coalesce(t.pay_method, b.pay_method) AS "payMethod", coalesce(t.pay_all, false) AS "payAll",
      coalesce(w.minutes, 0) AS "minutesWorked", coalesce(w.missed, 0) AS "shiftsMissed",
      coalesce(e.items, 0) AS "itemsEntered", coalesce(e.late, 0) AS "itemsLate",
      NOT EXISTS (SELECT 1 FROM earlier x WHERE x.member_id = m.id) AS "firstSale"
    FROM people p JOIN member m ON m.id = p.member_id
    LEFT JOIN entered e ON e.member_id = m.id LEFT JOIN work w ON w.member_id = m.id
    LEFT JOIN member_bank b ON b.member_id = m.id
    LEFT JOIN sale_seller t ON t.member_id = m.id AND t.sale_id = ${saleId}::uuid
    WHERE ${memberId}::uuid IS NULL OR m.id = ${memberId}::uuid
    ORDER BY m.number`;
  return rows.map(sellerRead);
}

function sellerRead(row: Row): SellerRead {
  const { memberId, memberNumber, memberName, payMethod, payAll } = row;
  const { visitor, committee, classCode, minutesWorked } = row;
  const { itemsEntered, itemsLate, firstSale, shiftsMissed } = row;
  return {
    ...{ memberId, memberNumber, memberName },
    seller: { visitor, committee, classCode, minutesWorked },
    facts: { itemsEntered, itemsLate, firstSale, shiftsMissed },
    wish: { method: payMethod, payAll },
  };
}
