import type { Fibre } from "../../rules/fibre.ts";
import type { LabelYarn } from "../../rules/labels/details.ts";
import type { Transaction } from "../client.ts";

/** A member's entry in a sale that has begun to sell, as far as what sold needs it. */
export interface OwnItem {
  id: string;
  saleId: string;
  tag: string;
  description: string;
  kind: string;
  kindName: string;
  colours: string;
  fibres: Fibre[];
  yarns: LabelYarn[];
  price: number;
  entered: number;
  minutes: number | null;
  materials: number | null;
}

type Row = Omit<OwnItem, "yarns" | "price" | "materials"> & {
  yarns: LabelYarn[] | null;
  price: bigint;
  materials: bigint | null;
};

/** All of a member's entries, each found by its key: the OFFSETs keep the guild's others out of it. */
export async function ownItemsOf(db: Transaction, memberId: string): Promise<OwnItem[]> {
  const rows = await db.$queryRaw<Row[]>`
    SELECT i.id, i.sale_id AS "saleId", i.tag, i.description, k.code AS kind, k.name AS "kindName", i.colours,
      i.fibres, i.label_details -> 'yarns' AS yarns, i.price, c.entered, m.minutes, m.materials
    FROM item i
    JOIN kind k ON k.id = i.kind_id
    JOIN sale s ON s.id = i.sale_id AND s.stage IN ('selling', 'settling', 'closed')
    CROSS JOIN LATERAL (SELECT entered FROM item_count n WHERE n.item_id = i.id OFFSET 0) c
    LEFT JOIN LATERAL (SELECT minutes, materials FROM item_making w WHERE w.item_id = i.id OFFSET 0) m ON true
    WHERE i.member_id = ${memberId}::uuid AND i.withdrawn_at IS NULL
    ORDER BY i.number`;
  return rows.map(({ yarns, price, materials, ...row }) => ({
    ...row,
    yarns: yarns ?? [],
    price: Number(price),
    materials: materials === null ? null : Number(materials),
  }));
}
