import type { Check, Finding } from "./check.ts";

export const piecesAreSomewhere: Check = {
  invariant: 2,
  words: "Every piece that was entered is in exactly one place, as its movements say",
  run: (db) => db.$queryRaw<Finding[]>`
    WITH moved AS (
      SELECT item_id,
        coalesce(sum(quantity) FILTER (WHERE from_place = 'outside'), 0) - coalesce(sum(quantity) FILTER (WHERE to_place = 'outside'), 0) AS entered,
        coalesce(sum(quantity) FILTER (WHERE to_place = 'member'), 0) - coalesce(sum(quantity) FILTER (WHERE from_place = 'member'), 0) AS with_member,
        coalesce(sum(quantity) FILTER (WHERE to_place = 'floor'), 0) - coalesce(sum(quantity) FILTER (WHERE from_place = 'floor'), 0) AS on_floor,
        coalesce(sum(quantity) FILTER (WHERE to_place = 'buyer'), 0) - coalesce(sum(quantity) FILTER (WHERE from_place = 'buyer'), 0) AS with_buyer,
        coalesce(sum(quantity) FILTER (WHERE to_place = 'guild'), 0) - coalesce(sum(quantity) FILTER (WHERE from_place = 'guild'), 0) AS with_guild,
        coalesce(sum(quantity) FILTER (WHERE to_place = 'lost'), 0) - coalesce(sum(quantity) FILTER (WHERE from_place = 'lost'), 0) AS lost
      FROM movement GROUP BY item_id)
    SELECT (SELECT count(*) FROM item) AS checked, (
      SELECT 'Item ' || i.tag || ' says ' || i.quantity || ' pieces and counts '
          || concat_ws('/', c.entered, c.with_member, c.on_floor, c.with_buyer, c.with_guild, c.lost)
          || ' (entered/member/floor/buyer/guild/lost); its movements give '
          || concat_ws('/', m.entered, m.with_member, m.on_floor, m.with_buyer, m.with_guild, m.lost)
      FROM item i LEFT JOIN item_count c ON c.item_id = i.id LEFT JOIN moved m ON m.item_id = i.id
      WHERE i.quantity IS DISTINCT FROM m.entered
        OR (c.entered, c.with_member, c.on_floor, c.with_buyer, c.with_guild, c.lost) IS DISTINCT FROM
          (m.entered, m.with_member, m.on_floor, m.with_buyer, m.with_guild, m.lost)
        OR least(m.with_member, m.on_floor, m.with_buyer, m.with_guild, m.lost) < 0
      ORDER BY i.tag LIMIT 1) AS broken`,
};
