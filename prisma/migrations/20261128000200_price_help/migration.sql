-- What a member would like an hour to bring: the member's alone, filled in again next time.

CREATE TABLE "member_wage" (
    "member_id" UUID NOT NULL,
    "wage" BIGINT NOT NULL,

    CONSTRAINT "member_wage_pkey" PRIMARY KEY ("member_id")
);

ALTER TABLE "member_wage" ADD CONSTRAINT "member_wage_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "member_wage" ADD CONSTRAINT member_wage_wage CHECK (wage > 0 AND wage <= 999999999);

-- Which pieces are of about one size: 0 to 7 by the area of what was typed as "20 x 180 cm" or
-- "8 by 72 in", each class twice as large as the one before; NULL for what says no unit or no area.
-- The classes are fixed, so that nobody can move their bounds past a single piece.
CREATE FUNCTION size_class(size text) RETURNS integer LANGUAGE sql IMMUTABLE PARALLEL SAFE AS $$
  SELECT width_bucket(
    replace(found[1], ',', '.')::numeric * replace(found[3], ',', '.')::numeric
      * CASE WHEN found[4] IN ('cm', 'centimetres') THEN 1 WHEN found[4] = 'mm' THEN 0.01 ELSE 6.4516 END,
    ARRAY[500, 1000, 2000, 4000, 8000, 16000, 32000]::numeric[])
  FROM regexp_match(lower(size),
    '(\d{1,5}(?:[.,]\d{1,3})?)\s*(cm|mm|inches|in|"|″)?\s*(?:x|×|by)\s*(\d{1,5}(?:[.,]\d{1,3})?)\s*(centimetres|cm|mm|inches|in|"|″)') AS found
$$;
