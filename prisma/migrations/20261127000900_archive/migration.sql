-- The archive of a sale keeps rows as text, and a service that is empty takes them back. Both ask
-- the catalogue for the columns, so that a new column is archived without anybody thinking of it.
-- Which tables, in which order and without which columns, stands in src/database/archive/tables.ts.

-- Opens the cursor "fetched" on the rows of a table as one line of JSON each: numbers beyond 32
-- bits as texts, moments in UTC with milliseconds.
CREATE FUNCTION open_archive_rows(table_name text, in_order text[], left_out text[]) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  shown text;
  sorted text;
  rows refcursor := 'fetched';
BEGIN
  SELECT string_agg(CASE a.atttypid
      WHEN 'bigint'::regtype THEN format('r.%1$I::text AS %1$I', a.attname)
      WHEN 'timestamptz'::regtype THEN format('to_char(r.%1$I AT TIME ZONE ''UTC'', ''YYYY-MM-DD"T"HH24:MI:SS.MS"Z"'') AS %1$I', a.attname)
      ELSE format('r.%I', a.attname) END, ', ' ORDER BY a.attnum)
    INTO shown
    FROM pg_attribute a
    WHERE a.attrelid = table_name::regclass AND a.attnum > 0 AND NOT a.attisdropped AND a.attname <> ALL (left_out);
  -- The same order on every server, whatever its language.
  SELECT string_agg(format(CASE a.atttypid WHEN 'text'::regtype THEN 'r.%I COLLATE "C"' ELSE 'r.%I' END, a.attname), ', ' ORDER BY o.place)
    INTO sorted
    FROM unnest(in_order) WITH ORDINALITY o(name, place)
    JOIN pg_attribute a ON a.attrelid = table_name::regclass AND a.attname = o.name;
  OPEN rows FOR EXECUTE format('SELECT row_to_json(q)::text AS line FROM (SELECT %s FROM %I r ORDER BY %s) q', shown, table_name, sorted);
END $$;

-- Writes such rows, all in one statement, since checks look at a whole statement; then numbers run
-- on after the highest. Columns that the archive leaves out get what a new row gets.
CREATE FUNCTION restore_archive_rows(table_name text, left_out text[], given json) RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  kept text;
  numbered record;
BEGIN
  SELECT string_agg(format('%I', a.attname), ', ' ORDER BY a.attnum) INTO kept
    FROM pg_attribute a
    WHERE a.attrelid = table_name::regclass AND a.attnum > 0 AND NOT a.attisdropped AND a.attname <> ALL (left_out);
  EXECUTE format('INSERT INTO %1$I (%2$s) SELECT %2$s FROM json_populate_recordset(NULL::%1$I, $1)', table_name, kept) USING given;
  FOR numbered IN
    SELECT a.attname AS name, pg_get_serial_sequence(quote_ident(table_name), a.attname) AS series
    FROM pg_attribute a WHERE a.attrelid = table_name::regclass AND a.attnum > 0 AND NOT a.attisdropped
  LOOP
    CONTINUE WHEN numbered.series IS NULL;
    EXECUTE format('SELECT setval(%L, max(%I)) FROM %I', numbered.series, numbered.name, table_name);
  END LOOP;
END $$;
