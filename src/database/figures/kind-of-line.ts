import { Prisma } from "../generated/client.ts";

/**
 * What kind of goods a line of a receipt is of, where `l` is the line and `k` the kind of its
 * piece, if it has one: the code to ask by, and the name to show.
 */
export const kindKey = Prisma.sql`CASE WHEN k.code IS NOT NULL THEN 'kind-' || k.code WHEN l.kind = 'goods' THEN 'own'
  WHEN l.kind = 'donation' THEN 'gift' ELSE 'unknown' END`;

export const kindName = Prisma.sql`CASE WHEN k.code IS NOT NULL THEN k.name WHEN l.kind = 'goods' THEN 'Guild''s goods'
  WHEN l.kind = 'donation' THEN 'Gifts' ELSE 'No known tag' END`;
