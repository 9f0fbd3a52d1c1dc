import type { SaleBook } from "../rules/policy/sale-book.ts";
import type { Database } from "./client.ts";
import { gatherSaleBook } from "./sale-book.ts";

/** Books on which another policy can be tried, with the names of their members by id. */
export interface BookToShow {
  saleId: string;
  saleName: string;
  book: SaleBook;
  names: ReadonlyMap<string, string>;
}

/**
 * The books of the sale itself, or those of the newest sale before it in which something was sold;
 * null where no such sale is.
 */
export async function bookToShow(db: Database, saleId: string): Promise<BookToShow | null> {
  const [found] = await db.$queryRaw<{ id: string; name: string }[]>`
    SELECT o.id, o.name FROM sale s JOIN sale o ON o.id = s.id OR o.first_day < s.first_day
    WHERE s.id = ${saleId}::uuid AND EXISTS (
      SELECT 1 FROM receipt r JOIN credited_line l ON l.receipt_id = r.id WHERE r.sale_id = o.id)
    ORDER BY (o.id = s.id) DESC, o.first_day DESC, o.id DESC LIMIT 1`;
  if (!found) return null;
  const { book, sellers } = await gatherSaleBook(db, found.id);
  const names = new Map([...sellers].map(([id, { memberName }]) => [id, memberName]));
  return { saleId: found.id, saleName: found.name, book, names };
}
