import type { Transaction } from "./client.ts";

export interface GuildGoodRead {
  id: string;
  name: string;
  kind: "goods" | "donation";
  price: number | null;
  taxKind: string;
  position: number;
  retired: boolean;
  version: number;
}

/** What the guild itself sells at a sale's tills, in the order of the buttons. */
export async function listGuildGoods(
  db: Transaction,
  saleId: string,
  { retired = false }: { retired?: boolean } = {},
): Promise<GuildGoodRead[]> {
  const rows = await db.guildGood.findMany({
    where: { saleId, ...(retired ? {} : { retiredAt: null }) },
    orderBy: [{ position: "asc" }, { id: "asc" }],
  });
  return rows.map(({ retiredAt, saleId: _sale, price, kind, ...row }) => ({
    ...row,
    kind: kind as GuildGoodRead["kind"],
    price: price === null ? null : Number(price),
    retired: retiredAt !== null,
  }));
}
