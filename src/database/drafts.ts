import type { Transaction } from "./client.ts";

/** A draft as it was typed. Nobody but its member reads it, so every question names the member. */
export interface DraftRead {
  id: string;
  form: "one" | "many";
  saleId: string;
  saleName: string;
  version: number;
  typedAt: Date;
  fields: Record<string, string | string[]>;
}

const parts = { sale: { select: { name: true } } } as const;

/** All drafts of a member, the newest first. There are never so many that they need pages. */
export async function draftsOf(db: Transaction, memberId: string): Promise<DraftRead[]> {
  const rows = await db.entryDraft.findMany({
    where: { memberId },
    include: parts,
    orderBy: [{ typedAt: "desc" }, { id: "desc" }],
  });
  return rows.map(readRow);
}

export async function findDraft(
  db: Transaction,
  memberId: string,
  id: string,
): Promise<DraftRead | undefined> {
  const row = await db.entryDraft.findFirst({ where: { id, memberId }, include: parts });
  return row ? readRow(row) : undefined;
}

type Row = NonNullable<Awaited<ReturnType<typeof anyRow>>>;
const anyRow = (db: Transaction) => db.entryDraft.findFirst({ include: parts });

const readRow = ({ id, form, saleId, sale, version, typedAt, fields }: Row): DraftRead => ({
  ...{ id, saleId, version, typedAt },
  form: form === "many" ? "many" : "one",
  saleName: sale.name,
  fields: fields as DraftRead["fields"],
});
