import { Prisma } from "../generated/client.ts";
import { type CsvExport, column } from "./csv-export.ts";

const items: CsvExport = {
  name: "items",
  title: "Items and where they are",
  words: "Every tag number with its price, and how many of its pieces are where.",
  columns: [
    column("tag", "Tag"),
    column("memberNumber", "Member number", "count"),
    column("member", "Member"),
    column("kind", "Kind"),
    column("description", "Description"),
    column("price", "Price", "money"),
    column("donated", "Given to the guild", "yes"),
    column("entered", "Entered", "count"),
    column("withMember", "With the member", "count"),
    column("onFloor", "On the floor", "count"),
    column("withBuyer", "Sold", "count"),
    column("withGuild", "With the guild", "count"),
    column("lost", "Lost", "count"),
    column("enteredAt", "Entered at", "moment"),
    column("withdrawnAt", "Withdrawn at", "moment"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT i.tag, m.number AS "memberNumber", m.name AS member, k.name AS kind, i.description, i.price,
      i.donated, c.entered, c.with_member AS "withMember", c.on_floor AS "onFloor",
      c.with_buyer AS "withBuyer", c.with_guild AS "withGuild", c.lost, i.entered_at AS "enteredAt",
      i.withdrawn_at AS "withdrawnAt"
    FROM item i JOIN item_count c ON c.item_id = i.id JOIN member m ON m.id = i.member_id
    JOIN kind k ON k.id = i.kind_id
    WHERE i.sale_id = ${saleId}::uuid ORDER BY m.number, i.number`,
};

const movements: CsvExport = {
  name: "movements",
  title: "Movements of pieces",
  words: "Each time pieces went from one place to another, with who and when.",
  columns: [
    column("id", "Movement", "count"),
    column("at", "At", "moment"),
    column("tag", "Tag"),
    column("description", "Description"),
    column("kind", "What"),
    column("fromPlace", "From"),
    column("toPlace", "To"),
    column("quantity", "Pieces", "count"),
    column("byNumber", "By member number", "count"),
    column("by", "By"),
    column("reason", "Reason"),
  ],
  query: (saleId) => Prisma.sql`
    SELECT v.id, v.at, i.tag, i.description, v.kind, v.from_place AS "fromPlace", v.to_place AS "toPlace",
      v.quantity, m.number AS "byNumber", m.name AS by, v.reason
    FROM movement v JOIN item i ON i.id = v.item_id LEFT JOIN member m ON m.id = v.by_id
    WHERE i.sale_id = ${saleId}::uuid ORDER BY v.id`,
};

export const goodsExports = [items, movements];
