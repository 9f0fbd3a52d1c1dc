-- The till as an instrument: taxes by component, cash rounding, markdown, the guild's own goods,
-- pieces without a tag, devices that number their own receipts, cash that moves without a sale.

-- Each sale's one rate becomes a set of tax rules with one component.
ALTER TABLE "sale"
  ADD COLUMN "tax_rules" JSONB,
  ADD COLUMN "cash_step" INTEGER NOT NULL DEFAULT 1,
  ADD COLUMN "cash_fives" TEXT NOT NULL DEFAULT 'up',
  ADD COLUMN "markdown_rate" INTEGER NOT NULL DEFAULT 0,
  ADD COLUMN "markdown_from" TIMESTAMPTZ(3);
UPDATE "sale" SET "tax_rules" = jsonb_build_object('included', false, 'basis', 'receipt', 'together', true,
  'components', CASE WHEN "tax_rate" = 0 THEN '[]'::jsonb ELSE
    jsonb_build_array(jsonb_build_object('code', 'tax', 'name', "tax_label", 'rate', "tax_rate", 'rules', '[]'::jsonb)) END);
ALTER TABLE "sale" ALTER COLUMN "tax_rules" SET NOT NULL, DROP COLUMN "tax_rate", DROP COLUMN "tax_label";
ALTER TABLE "item" ADD COLUMN "markdown" BOOLEAN NOT NULL DEFAULT false;
ALTER TABLE "member" ADD COLUMN "pin_hash" TEXT;
ALTER TABLE "till_session" ADD COLUMN "counts" JSONB NOT NULL DEFAULT '[]';
ALTER TABLE "cash_up" ADD COLUMN "counts" JSONB NOT NULL DEFAULT '[]';

-- CreateTable
CREATE TABLE "guild_good" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "price" BIGINT,
    "tax_kind" TEXT NOT NULL DEFAULT '',
    "position" INTEGER NOT NULL,
    "retired_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "guild_good_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "till_device" (
    "till_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "token_hash" TEXT NOT NULL,
    "enrolled_by_id" UUID NOT NULL,
    "enrolled_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "lost_at" TIMESTAMPTZ(3),
    "last_seen_at" TIMESTAMPTZ(3),
    "unsent" INTEGER NOT NULL DEFAULT 0,
    "last_number" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "till_device_pkey" PRIMARY KEY ("till_id")
);

-- CreateTable
CREATE TABLE "till_code" (
    "code_hash" TEXT NOT NULL,
    "till_id" UUID NOT NULL,
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),

    CONSTRAINT "till_code_pkey" PRIMARY KEY ("code_hash")
);

-- CreateTable
CREATE TABLE "till_change" (
    "seq" BIGSERIAL NOT NULL,
    "sale_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "xid" BIGINT NOT NULL,

    CONSTRAINT "till_change_pkey" PRIMARY KEY ("seq")
);

-- CreateTable
CREATE TABLE "cash_move" (
    "id" UUID NOT NULL,
    "till_session_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "amount" BIGINT NOT NULL,
    "counts" JSONB NOT NULL DEFAULT '[]',
    "reason" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "cash_move_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "receipt_tax" (
    "receipt_id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "rate" INTEGER NOT NULL,
    "base" BIGINT NOT NULL,
    "tax" BIGINT NOT NULL,

    CONSTRAINT "receipt_tax_pkey" PRIMARY KEY ("receipt_id","code")
);

-- CreateTable
CREATE TABLE "identified" (
    "line_id" UUID NOT NULL,
    "member_id" UUID,
    "item_id" UUID,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "identified_pkey" PRIMARY KEY ("line_id")
);

ALTER TABLE "receipt"
  ADD COLUMN "rounding" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "exemption" TEXT NOT NULL DEFAULT '',
  ADD COLUMN "made_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
  ADD COLUMN "awaits_id" UUID,
  ADD COLUMN "exchange_id" UUID;
ALTER TABLE "receipt_line"
  ADD COLUMN "kind" TEXT NOT NULL DEFAULT 'item',
  ADD COLUMN "goods_id" UUID,
  ADD COLUMN "discount" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "tax_inside" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "tax_kind" TEXT NOT NULL DEFAULT '',
  ADD COLUMN "suspended" BOOLEAN NOT NULL DEFAULT false,
  ADD COLUMN "awaits_line_id" UUID,
  ADD COLUMN "price_reason" TEXT NOT NULL DEFAULT '',
  ALTER COLUMN "item_id" DROP NOT NULL,
  ALTER COLUMN "member_id" DROP NOT NULL;

-- A receipt of before was made when it was recorded; the rows themselves stay closed to changes.
ALTER TABLE "receipt" DISABLE TRIGGER keep_rows;
UPDATE "receipt" SET "made_at" = "at";
ALTER TABLE "receipt" ENABLE TRIGGER keep_rows;
INSERT INTO "receipt_tax" ("receipt_id", "code", "name", "rate", "base", "tax")
  SELECT r."id", 'tax', coalesce(s."tax_rules" -> 'components' -> 0 ->> 'name', 'Sales tax'),
    coalesce((s."tax_rules" -> 'components' -> 0 ->> 'rate')::integer, 0), r."subtotal", r."tax"
  FROM "receipt" r JOIN "sale" s ON s."id" = r."sale_id" WHERE r."tax" <> 0;

-- CreateIndex
CREATE INDEX "guild_good_sale_id_idx" ON "guild_good"("sale_id");
CREATE UNIQUE INDEX "till_device_token_hash_key" ON "till_device"("token_hash");
CREATE INDEX "till_code_till_id_idx" ON "till_code"("till_id");
CREATE INDEX "till_change_sale_id_xid_idx" ON "till_change"("sale_id", "xid");
CREATE INDEX "cash_move_till_session_id_idx" ON "cash_move"("till_session_id");
CREATE INDEX "identified_member_id_idx" ON "identified"("member_id");
CREATE INDEX "receipt_awaits_id_idx" ON "receipt"("awaits_id");
CREATE INDEX "receipt_line_awaits_line_id_idx" ON "receipt_line"("awaits_line_id");
CREATE INDEX "receipt_exchange_id_idx" ON "receipt"("exchange_id");

-- AddForeignKey
ALTER TABLE "receipt_line" DROP CONSTRAINT "receipt_line_item_id_fkey";
ALTER TABLE "receipt_line" ADD CONSTRAINT "receipt_line_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "receipt_line" ADD CONSTRAINT "receipt_line_goods_id_fkey" FOREIGN KEY ("goods_id") REFERENCES "guild_good"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "guild_good" ADD CONSTRAINT "guild_good_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "till_device" ADD CONSTRAINT "till_device_till_id_fkey" FOREIGN KEY ("till_id") REFERENCES "till"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "till_code" ADD CONSTRAINT "till_code_till_id_fkey" FOREIGN KEY ("till_id") REFERENCES "till"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "cash_move" ADD CONSTRAINT "cash_move_till_session_id_fkey" FOREIGN KEY ("till_session_id") REFERENCES "till_session"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "receipt_tax" ADD CONSTRAINT "receipt_tax_receipt_id_fkey" FOREIGN KEY ("receipt_id") REFERENCES "receipt"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "identified" ADD CONSTRAINT "identified_line_id_fkey" FOREIGN KEY ("line_id") REFERENCES "receipt_line"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- What a single row may hold.
ALTER TABLE sale
  ADD CONSTRAINT sale_cash CHECK (cash_step IN (1, 5, 10, 50, 100) AND cash_fives IN ('up', 'down')),
  ADD CONSTRAINT sale_markdown CHECK (markdown_rate BETWEEN 0 AND 100000);
ALTER TABLE guild_good
  ADD CONSTRAINT guild_good_kind CHECK (kind IN ('goods', 'donation')),
  ADD CONSTRAINT guild_good_name CHECK (name <> ''),
  ADD CONSTRAINT guild_good_price CHECK (price IS NULL OR price >= 1);
ALTER TABLE till_device ADD CONSTRAINT till_device_counts CHECK (unsent >= 0 AND last_number >= 0);
ALTER TABLE cash_move
  ADD CONSTRAINT cash_move_kind CHECK (kind IN ('to-safe', 'paid-in', 'paid-out')),
  ADD CONSTRAINT cash_move_amount CHECK (amount >= 1),
  ADD CONSTRAINT cash_move_reason CHECK (kind = 'to-safe' OR reason <> '');
ALTER TABLE identified ADD CONSTRAINT identified_reason CHECK (reason <> '');

ALTER TABLE receipt DROP CONSTRAINT receipt_sign;
ALTER TABLE receipt ADD CONSTRAINT receipt_sign CHECK (
  (kind = 'sale' AND total > 0 AND reverses_id IS NULL AND awaits_id IS NULL) OR
  (kind <> 'sale' AND total < 0 AND (reverses_id IS NULL) <> (awaits_id IS NULL) AND reason <> ''));
ALTER TABLE receipt_line DROP CONSTRAINT receipt_line_amount, DROP CONSTRAINT receipt_line_sign, DROP CONSTRAINT receipt_line_tax;
ALTER TABLE receipt_line
  ADD CONSTRAINT receipt_line_amount CHECK (
    quantity <> 0 AND unit_price >= 1 AND amount = quantity * unit_price - discount - tax_inside),
  -- A line below zero takes back a line that is here, or waits in suspense for one that is not.
  ADD CONSTRAINT receipt_line_sign CHECK (
    CASE WHEN quantity > 0 THEN reverses_line_id IS NULL ELSE reverses_line_id IS NOT NULL OR suspended END),
  ADD CONSTRAINT receipt_line_tax CHECK (
    sign(tax) IN (0, sign(quantity)) AND sign(discount) IN (0, sign(quantity)) AND sign(amount) IN (0, sign(quantity))
    AND tax_inside IN (0, tax)),
  ADD CONSTRAINT receipt_line_kind CHECK (
    CASE kind
      WHEN 'item' THEN item_id IS NOT NULL AND member_id IS NOT NULL AND tag <> ''
      WHEN 'untagged' THEN item_id IS NULL AND suspended
      WHEN 'goods' THEN goods_id IS NOT NULL AND item_id IS NULL AND NOT suspended
      WHEN 'donation' THEN item_id IS NULL AND donated AND NOT suspended AND tax = 0
      ELSE false END);
ALTER TABLE receipt_tender DROP CONSTRAINT tender_kind, DROP CONSTRAINT tender_amount;
-- A cash part may round to nothing: it is still how the buyer paid.
ALTER TABLE receipt_tender
  ADD CONSTRAINT tender_kind CHECK (kind IN ('cash', 'cheque', 'card', 'other', 'exchange')),
  ADD CONSTRAINT tender_amount CHECK (amount <> 0 OR kind = 'cash');

DO $$
DECLARE name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['cash_move', 'receipt_tax', 'identified'] LOOP
    EXECUTE format('CREATE TRIGGER keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION keep_as_recorded()', name);
    EXECUTE format('CREATE TRIGGER keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded()', name);
  END LOOP;
END $$;

INSERT INTO account (key, kind, name) VALUES
  ('safe', 'asset', 'Safe'),
  ('paid-in', 'income', 'Paid into the tills'),
  ('paid-out', 'expense', 'Paid out of the tills'),
  ('exchange', 'asset', 'Exchanges');

-- An account for each tax component that a sale names; two sales with the same code share it.
CREATE FUNCTION open_tax_accounts() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO account (key, kind, name)
    SELECT DISTINCT ON (c ->> 'code') 'tax/' || (c ->> 'code'), 'liability', c ->> 'name'
    FROM jsonb_array_elements(NEW.tax_rules -> 'components') c
    ON CONFLICT (key) DO NOTHING;
  RETURN NULL;
END $$;
CREATE TRIGGER open_tax_accounts AFTER INSERT OR UPDATE OF tax_rules ON sale FOR EACH ROW EXECUTE FUNCTION open_tax_accounts();
INSERT INTO account (key, kind, name)
  SELECT DISTINCT ON (c ->> 'code') 'tax/' || (c ->> 'code'), 'liability', c ->> 'name'
  FROM sale CROSS JOIN LATERAL jsonb_array_elements(tax_rules -> 'components') c;

-- The one tax account of before becomes that of the component "tax".
INSERT INTO account (key, kind, name) VALUES ('tax/tax', 'liability', 'Sales tax') ON CONFLICT (key) DO NOTHING;
ALTER TABLE posting DISABLE TRIGGER keep_rows;
UPDATE posting SET account_key = 'tax/tax' WHERE account_key = 'sales-tax';
ALTER TABLE posting ENABLE TRIGGER keep_rows;
DELETE FROM account WHERE key = 'sales-tax';

-- What changed for the tills. The number of the transaction orders the rows: once every older
-- transaction has ended, no row can come in behind a reader.
CREATE FUNCTION note_till_change() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE item_now uuid; sale_now uuid;
BEGIN
  IF TG_TABLE_NAME = 'item' THEN
    item_now := NEW.id; sale_now := NEW.sale_id;
  ELSE
    item_now := NEW.item_id;
    SELECT sale_id INTO sale_now FROM item WHERE id = NEW.item_id;
  END IF;
  INSERT INTO till_change (sale_id, item_id, xid) VALUES (sale_now, item_now, pg_current_xact_id()::text::bigint);
  RETURN NULL;
END $$;
CREATE TRIGGER note_till_change AFTER UPDATE ON item FOR EACH ROW EXECUTE FUNCTION note_till_change();
CREATE TRIGGER note_till_change AFTER UPDATE ON item_count FOR EACH ROW EXECUTE FUNCTION note_till_change();

-- A receipt adds up: lines, taxes by component, tenders with their rounding, and its entry.
CREATE OR REPLACE FUNCTION receipt_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE amounts bigint; taxes bigint; by_component bigint; tendered bigint;
BEGIN
  SELECT sum(amount), sum(tax) INTO amounts, taxes FROM receipt_line WHERE receipt_id = NEW.id;
  SELECT coalesce(sum(tax), 0) INTO by_component FROM receipt_tax WHERE receipt_id = NEW.id;
  SELECT sum(amount) INTO tendered FROM receipt_tender WHERE receipt_id = NEW.id;
  IF (amounts, taxes, by_component, tendered) IS DISTINCT FROM (NEW.subtotal, NEW.tax, NEW.tax, NEW.total + NEW.rounding) THEN
    RAISE EXCEPTION 'receipt % does not add up', NEW.id USING ERRCODE = 'TB001';
  END IF;
  IF NOT EXISTS (SELECT 1 FROM journal_entry WHERE kind = 'receipt' AND subject_id = NEW.id) THEN
    RAISE EXCEPTION 'receipt % is not in the books', NEW.id USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;

-- Every line of an identified piece moves it; suspended lines and the guild's goods move nothing.
CREATE OR REPLACE FUNCTION receipt_line_moves() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE wanted integer := CASE WHEN NEW.kind = 'item' AND NOT NEW.suspended THEN NEW.quantity ELSE 0 END;
BEGIN
  IF coalesce((SELECT sum(CASE kind WHEN 'sold' THEN quantity ELSE -quantity END) FROM movement WHERE receipt_line_id = NEW.id), 0) <> wanted THEN
    RAISE EXCEPTION 'receipt line % moved other pieces than it names', NEW.id USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;

-- A line can be given back once in all, however many returns that takes.
CREATE OR REPLACE FUNCTION return_within_sold() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE original receipt_line; back bigint; tax_back bigint; discount_back bigint;
BEGIN
  IF NEW.reverses_line_id IS NULL THEN RETURN NEW; END IF;
  SELECT * INTO original FROM receipt_line WHERE id = NEW.reverses_line_id FOR UPDATE;
  SELECT coalesce(sum(quantity), 0), coalesce(sum(tax), 0), coalesce(sum(discount), 0) INTO back, tax_back, discount_back
    FROM receipt_line WHERE reverses_line_id = NEW.reverses_line_id;
  IF original.quantity < 0 OR original.item_id IS DISTINCT FROM NEW.item_id OR original.unit_price <> NEW.unit_price
     OR original.kind <> NEW.kind OR original.suspended <> NEW.suspended THEN
    RAISE EXCEPTION 'line % cannot be reversed so', original.id USING ERRCODE = 'TB001';
  END IF;
  IF original.quantity + back + NEW.quantity < 0 OR original.tax + tax_back + NEW.tax < 0
     OR original.discount + discount_back + NEW.discount < 0 THEN
    RAISE EXCEPTION 'returned-already' USING ERRCODE = 'TB002';
  END IF;
  RETURN NEW;
END $$;

-- Records a receipt whole, in one statement. Besides what 400_record_receipt says, given holds:
--   number: the till's own number when it has a device, else null for the next one;
--   madeAt, rounding, exemption, awaitsId, exchangeId, late (a till's fact is taken while settling too);
--   lines: also kind, goodsId, discount, taxInside, taxKind, suspended, priceReason, goesTo, awaitsLineId;
--   taxes: [{ code, name, rate, base, tax }].
-- Raises TB002 with one of: till-closed, sale-stage, number-gap.
CREATE OR REPLACE FUNCTION record_receipt(given jsonb) RETURNS integer LANGUAGE plpgsql AS $$
DECLARE
  head record;
  next_number integer;
  stage_now text;
BEGIN
  SELECT * INTO head FROM jsonb_to_record(given) AS r(
    "id" uuid, "saleId" uuid, "tillId" uuid, "tillSessionId" uuid, "kind" text, "reversesId" uuid, "awaitsId" uuid,
    "exchangeId" uuid, "number" integer, "madeAt" timestamptz, "late" boolean, "subtotal" bigint, "tax" bigint,
    "total" bigint, "cashGiven" bigint, "change" bigint, "rounding" bigint, "exemption" text,
    "fingerprint" text, "reason" text, "cashierId" uuid, "requestId" text, "description" text, "entryId" uuid);

  -- The stage cannot move on and the till cannot be cashed up while this receipt is being written.
  SELECT stage INTO stage_now FROM sale WHERE id = head."saleId" FOR SHARE;
  IF NOT coalesce(stage_now = 'selling' OR ((head."kind" = 'return' OR head."late") AND stage_now = 'settling'), false) THEN
    RAISE EXCEPTION 'sale-stage' USING ERRCODE = 'TB002';
  END IF;
  PERFORM 1 FROM till WHERE id = head."tillId" AND sale_id = head."saleId" FOR NO KEY UPDATE;
  PERFORM 1 FROM till_session WHERE id = head."tillSessionId" AND till_id = head."tillId" AND closed_at IS NULL FOR SHARE;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'till-closed' USING ERRCODE = 'TB002';
  END IF;

  SELECT coalesce(max(number), 0) + 1 INTO next_number FROM receipt WHERE till_id = head."tillId";
  IF head."number" <> next_number THEN
    RAISE EXCEPTION 'number-gap' USING ERRCODE = 'TB002';
  END IF;
  INSERT INTO receipt (id, sale_id, till_id, till_session_id, number, kind, reverses_id, awaits_id, exchange_id, subtotal, tax,
      total, cash_given, change, rounding, exemption, made_at, fingerprint, reason, cashier_id)
    VALUES (head."id", head."saleId", head."tillId", head."tillSessionId", next_number, head."kind", head."reversesId",
      head."awaitsId", head."exchangeId", head."subtotal", head."tax", head."total", head."cashGiven", head."change",
      coalesce(head."rounding", 0), coalesce(head."exemption", ''), coalesce(head."madeAt", now()),
      head."fingerprint", head."reason", head."cashierId");

  INSERT INTO receipt_line (id, receipt_id, position, kind, item_id, goods_id, member_id, tag, description, quantity, unit_price,
      discount, amount, tax, tax_inside, tax_kind, donated, suspended, price_reason, reverses_line_id, awaits_line_id)
    SELECT l."id", head."id", l."position", l."kind", l."itemId", l."goodsId", l."memberId", l."tag", l."description", l."quantity",
      l."unitPrice", l."discount", l."amount", l."tax", l."taxInside", l."taxKind", l."donated", l."suspended", l."priceReason", l."reversesLineId", l."awaitsLineId"
    FROM jsonb_to_recordset(given -> 'lines') AS l("id" uuid, "position" integer, "kind" text, "itemId" uuid, "goodsId" uuid,
      "memberId" uuid, "tag" text, "description" text, "quantity" integer, "unitPrice" bigint, "discount" bigint, "amount" bigint,
      "tax" bigint, "taxInside" bigint, "taxKind" text, "donated" boolean, "suspended" boolean, "priceReason" text, "reversesLineId" uuid, "awaitsLineId" uuid)
    -- Always in the same order, so that two tills with the same stacks wait instead of deadlocking.
    ORDER BY l."itemId";

  INSERT INTO movement (item_id, kind, from_place, to_place, quantity, receipt_line_id, by_id)
    SELECT l."itemId", CASE WHEN l."quantity" > 0 THEN 'sold' ELSE 'returned' END,
      CASE WHEN l."quantity" > 0 THEN 'floor' ELSE 'buyer' END, CASE WHEN l."quantity" > 0 THEN 'buyer' ELSE 'floor' END,
      abs(l."quantity"), l."id", head."cashierId"
    FROM jsonb_to_recordset(given -> 'lines') AS l("id" uuid, "kind" text, "itemId" uuid, "quantity" integer, "suspended" boolean)
    WHERE l."kind" = 'item' AND NOT l."suspended"
    ORDER BY l."itemId";
  -- A piece that goes home from the till passes the floor, so that both moves have their usual names.
  INSERT INTO movement (item_id, kind, from_place, to_place, quantity, by_id)
    SELECT l."itemId", 'picked-up', 'floor', 'member', abs(l."quantity"), head."cashierId"
    FROM jsonb_to_recordset(given -> 'lines') AS l("kind" text, "itemId" uuid, "quantity" integer, "suspended" boolean, "goesTo" text)
    WHERE l."kind" = 'item' AND NOT l."suspended" AND l."goesTo" = 'member'
    ORDER BY l."itemId";

  INSERT INTO receipt_tender (receipt_id, kind, amount, reference)
    SELECT head."id", t."kind", t."amount", t."reference"
    FROM jsonb_to_recordset(given -> 'tenders') AS t("kind" text, "amount" bigint, "reference" text);
  INSERT INTO receipt_tax (receipt_id, code, name, rate, base, tax)
    SELECT head."id", c."code", c."name", c."rate", c."base", c."tax"
    FROM jsonb_to_recordset(given -> 'taxes') AS c("code" text, "name" text, "rate" integer, "base" bigint, "tax" bigint);

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

-- The lines that a member is credited with: tagged pieces, and suspended ones whose owner is known.
CREATE VIEW credited_line AS
  SELECT l.id, l.receipt_id, l.position, l.tag, l.description, l.quantity, l.amount, l.donated,
    coalesce(i.item_id, l.item_id) AS item_id,
    CASE WHEN i.line_id IS NULL THEN l.member_id ELSE i.member_id END AS member_id,
    coalesce(l.reverses_line_id, l.awaits_line_id) AS reverses_line_id
  FROM receipt_line l LEFT JOIN identified i ON i.line_id = l.id
  WHERE CASE WHEN i.line_id IS NULL THEN NOT l.suspended AND l.member_id IS NOT NULL ELSE i.member_id IS NOT NULL END;
