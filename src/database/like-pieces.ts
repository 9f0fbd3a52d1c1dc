import type { Database } from "./client.ts";

/** What a member asks about: pieces of a kind, sold in sets of so many. */
export interface LikePieces {
  kind: string;
  piecesInSet: number;
  fibre?: string | undefined;
  size?: string | undefined;
}

/** Half of the pieces sold for `low` to `high`; whole units of the currency, in smallest coins. */
export interface PricePool {
  alike: "kind" | "fibre" | "size" | "fibre-and-size";
  pieces: number;
  low: number;
  middle: number;
  high: number;
}

/** Prices of longer ago say little about today's. */
const years = 5;

/**
 * What like pieces sold for at the guild's settled sales, as figures of a pool and never of one
 * piece. A pool holds at least five pieces of three members without those of whoever asks, who
 * knows their own and could take them off. It is narrowed to pieces of the same chief fibre or
 * size only when what is left over is such a pool as well, or holds nothing: else comparing the
 * two would tell of the few between them. Lowest and highest price are single pieces and stay
 * untold; the middle and the middle half are rounded to whole units of the currency.
 */
export async function likePieces(
  db: Database,
  memberId: string,
  { kind, piecesInSet, fibre = "", size = "" }: LikePieces,
  { unit, day }: { unit: number; day: string },
): Promise<PricePool | null> {
  const [row] = await db.$queryRaw<PricePool[]>`
    WITH sold AS (
      -- What came back is taken off with its amount; pieces of one tag stand at their mean.
      SELECT l.member_id, l.member_id <> ${memberId}::uuid AS other,
        sum(l.amount) / sum(l.quantity) AS price, sum(l.quantity)::int AS pieces,
        coalesce((SELECT f ->> 'fibre' = ${fibre} FROM jsonb_array_elements(i.fibres) f
          ORDER BY (f ->> 'percent')::numeric DESC, f ->> 'fibre' LIMIT 1), false) AS fibre,
        coalesce(size_class(i.size) = size_class(${size}), false) AS size
      FROM item i JOIN kind k ON k.id = i.kind_id JOIN sale s ON s.id = i.sale_id
      JOIN credited_line l ON l.item_id = i.id
      WHERE k.code = ${kind} AND i.pieces_in_set = ${piecesInSet}::int AND NOT l.donated
        AND s.last_day > ${day}::date - make_interval(years => ${years}::int)
        AND (s.stage = 'closed' OR EXISTS (SELECT 1 FROM settlement t WHERE t.sale_id = s.id))
      GROUP BY i.id, l.member_id HAVING sum(l.quantity) > 0),
    piece AS (SELECT s.* FROM sold s CROSS JOIN LATERAL generate_series(1, s.pieces)),
    counted AS (
      SELECT fibre, size, count(*) AS others, count(DISTINCT member_id) AS members FROM piece WHERE other GROUP BY CUBE (fibre, size)),
    big AS (SELECT fibre, size, others >= 5 AND members >= 3 AS enough FROM counted),
    pool AS (
      SELECT * FROM (VALUES (3, 'fibre-and-size', true, true), (2, 'size', NULL, true), (1, 'fibre', true, NULL), (0, 'kind', NULL, NULL))
        AS v(rank, alike, fibre, size)
      WHERE EXISTS (SELECT 1 FROM big b WHERE b.enough AND b.fibre IS NOT DISTINCT FROM v.fibre AND b.size IS NOT DISTINCT FROM v.size)
        -- Every part that this pool leaves over is a pool itself, if there is anything in it.
        AND NOT EXISTS (SELECT 1 FROM big b WHERE NOT b.enough
          AND (b.fibre IS NULL) = (v.fibre IS NULL) AND (b.size IS NULL) = (v.size IS NULL))
      ORDER BY rank DESC LIMIT 1)
    SELECT v.alike, count(*)::int AS pieces, (${unit}::int * round(q[1] / ${unit}::int))::int AS low,
      (${unit}::int * round(q[2] / ${unit}::int))::int AS middle, (${unit}::int * round(q[3] / ${unit}::int))::int AS high
    FROM pool v JOIN piece p ON (v.fibre IS NULL OR p.fibre) AND (v.size IS NULL OR p.size)
    CROSS JOIN LATERAL (SELECT percentile_disc(ARRAY[0.25, 0.5, 0.75]) WITHIN GROUP (ORDER BY w.price) AS q
      FROM piece w WHERE (v.fibre IS NULL OR w.fibre) AND (v.size IS NULL OR w.size)) m
    GROUP BY v.alike, q`;
  return row ?? null;
}
