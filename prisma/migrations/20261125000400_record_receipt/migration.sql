-- One statement records a receipt whole: number, lines, tenders, pieces, books and audit. One
-- round trip is what keeps eight tills quick, and one statement cannot be half done.
--
-- given: { id, saleId, tillId, tillSessionId, kind, reversesId, subtotal, tax, total, cashGiven,
--   change, fingerprint, reason, cashierId, requestId, description, entryId,
--   lines: [{ id, position, itemId, memberId, tag, description, quantity, unitPrice, amount, tax,
--             donated, reversesLineId }],
--   tenders: [{ kind, amount, reference }], postings: [{ account, amount }] }
-- returns the receipt's number. Raises TB002 with one of: till-closed, sale-stage.
CREATE FUNCTION record_receipt(given jsonb) RETURNS integer LANGUAGE plpgsql AS $$
DECLARE
  head record;
  next_number integer;
  stage_now text;
BEGIN
  SELECT * INTO head FROM jsonb_to_record(given) AS r(
    "id" uuid, "saleId" uuid, "tillId" uuid, "tillSessionId" uuid, "kind" text, "reversesId" uuid,
    "subtotal" bigint, "tax" bigint, "total" bigint, "cashGiven" bigint, "change" bigint,
    "fingerprint" text, "reason" text, "cashierId" uuid, "requestId" text, "description" text, "entryId" uuid);

  -- The stage cannot move on and the till cannot be cashed up while this receipt is being written.
  SELECT stage INTO stage_now FROM sale WHERE id = head."saleId" FOR SHARE;
  IF NOT coalesce(stage_now = 'selling' OR (head."kind" = 'return' AND stage_now = 'settling'), false) THEN
    RAISE EXCEPTION 'sale-stage' USING ERRCODE = 'TB002';
  END IF;
  PERFORM 1 FROM till WHERE id = head."tillId" AND sale_id = head."saleId" FOR NO KEY UPDATE;
  PERFORM 1 FROM till_session WHERE id = head."tillSessionId" AND till_id = head."tillId" AND closed_at IS NULL FOR SHARE;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'till-closed' USING ERRCODE = 'TB002';
  END IF;

  SELECT coalesce(max(number), 0) + 1 INTO next_number FROM receipt WHERE till_id = head."tillId";
  INSERT INTO receipt (id, sale_id, till_id, till_session_id, number, kind, reverses_id, subtotal, tax, total,
      cash_given, change, fingerprint, reason, cashier_id)
    VALUES (head."id", head."saleId", head."tillId", head."tillSessionId", next_number, head."kind", head."reversesId",
      head."subtotal", head."tax", head."total", head."cashGiven", head."change", head."fingerprint", head."reason", head."cashierId");

  INSERT INTO receipt_line (id, receipt_id, position, item_id, member_id, tag, description, quantity, unit_price, amount, tax, donated, reverses_line_id)
    SELECT l."id", head."id", l."position", l."itemId", l."memberId", l."tag", l."description", l."quantity", l."unitPrice", l."amount", l."tax", l."donated", l."reversesLineId"
    FROM jsonb_to_recordset(given -> 'lines') AS l("id" uuid, "position" integer, "itemId" uuid, "memberId" uuid, "tag" text, "description" text,
      "quantity" integer, "unitPrice" bigint, "amount" bigint, "tax" bigint, "donated" boolean, "reversesLineId" uuid)
    -- Always in the same order, so that two tills with the same stacks wait instead of deadlocking.
    ORDER BY l."itemId";

  INSERT INTO movement (item_id, kind, from_place, to_place, quantity, receipt_line_id, by_id)
    SELECT l."itemId", CASE WHEN l."quantity" > 0 THEN 'sold' ELSE 'returned' END,
      CASE WHEN l."quantity" > 0 THEN 'floor' ELSE 'buyer' END, CASE WHEN l."quantity" > 0 THEN 'buyer' ELSE 'floor' END,
      abs(l."quantity"), l."id", head."cashierId"
    FROM jsonb_to_recordset(given -> 'lines') AS l("id" uuid, "itemId" uuid, "quantity" integer)
    ORDER BY l."itemId";

  INSERT INTO receipt_tender (receipt_id, kind, amount, reference)
    SELECT head."id", t."kind", t."amount", t."reference"
    FROM jsonb_to_recordset(given -> 'tenders') AS t("kind" text, "amount" bigint, "reference" text);

  INSERT INTO journal_entry (id, kind, description, sale_id, subject_id, by_id)
    VALUES (head."entryId", 'receipt', head."description", head."saleId", head."id", head."cashierId");
  INSERT INTO posting (entry_id, account_key, amount)
    SELECT head."entryId", p."account", p."amount" FROM jsonb_to_recordset(given -> 'postings') AS p("account" text, "amount" bigint);

  INSERT INTO audit (deed, subject_id, detail, by_id, request_id)
    VALUES ('record-receipt', head."id"::text,
      jsonb_build_object('kind', head."kind", 'number', next_number, 'total', head."total", 'reason', head."reason"),
      head."cashierId", head."requestId");
  RETURN next_number;
END $$;
