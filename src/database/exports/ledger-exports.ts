import { Prisma } from "../generated/client.ts";
import { type CsvExport, column } from "./csv-export.ts";

const journal: CsvExport = {
  name: "journal",
  title: "Journal",
  words: "The books, one row for each posting: debit above zero, credit below.",
  columns: [
    column("number", "Entry", "count"),
    column("at", "At", "moment"),
    column("kind", "Kind"),
    column("description", "Description"),
    column("name", "Account"),
    column("amount", "Amount", "money"),
    column("account", "Key of the account"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT e.number, e.at, e.kind, e.description, a.key AS account, p.amount,
      CASE WHEN t.id IS NULL THEN a.name ELSE 'Drawer of till ' || t.number END AS name
    FROM journal_entry e JOIN posting p ON p.entry_id = e.id JOIN account a ON a.key = p.account_key
    LEFT JOIN till t ON a.key = 'drawer/' || t.id
    WHERE e.sale_id = ${saleId}::uuid ORDER BY e.number, p.id`,
};

/** Neither pass phrases nor short numbers of tills nor where the money goes stand in it. */
export const membersExport: CsvExport = {
  name: "members",
  title: "Members",
  words: "All members with number, name, e-mail, phone and roles.",
  columns: [
    column("number", "Number", "count"),
    column("name", "Name"),
    column("email", "E-mail"),
    column("phone", "Phone"),
    column("status", "Status"),
    column("roles", "Roles"),
    column("businessName", "Name on labels"),
    column("since", "Since", "moment"),
  ],
  query: () => Prisma.sql`
    SELECT number, name, email, phone, status, array_to_string(roles, ' ') AS roles,
      business_name AS "businessName", created_at AS since
    FROM member ORDER BY number`,
};

export const ledgerExports = [journal];
