-- What a guild decides about money, versioned for each sale; who sold under which terms; shifts;
-- adjustments; and settlements that carry fees, card fees, losses and earlier balances.

CREATE TABLE "sale_policy" (
    "sale_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "policy" JSONB NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "by_id" UUID,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sale_policy_pkey" PRIMARY KEY ("sale_id","version")
);

CREATE TABLE "sale_seller" (
    "sale_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "visitor" BOOLEAN NOT NULL DEFAULT false,
    "committee" BOOLEAN NOT NULL DEFAULT false,
    "class_code" TEXT,
    "pay_method" TEXT,
    "pay_all" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "sale_seller_pkey" PRIMARY KEY ("sale_id","member_id")
);

CREATE TABLE "shift" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "task" TEXT NOT NULL DEFAULT '',
    "starts_at" TIMESTAMPTZ(3) NOT NULL,
    "minutes" INTEGER NOT NULL,
    "stand_in" TEXT NOT NULL DEFAULT '',
    "mark" TEXT,
    "minutes_worked" INTEGER,
    "marked_by_id" UUID,
    "marked_at" TIMESTAMPTZ(3),
    "withdrawn_at" TIMESTAMPTZ(3),
    "version" INTEGER NOT NULL DEFAULT 1,
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "shift_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "adjustment" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "amount" BIGINT NOT NULL,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "adjustment_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "settlement_proposal" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "net" BIGINT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "settlement_proposal_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "statement_item" (
    "statement_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "words" TEXT NOT NULL,
    "count" INTEGER NOT NULL,
    "amount" BIGINT NOT NULL,
    "item_id" UUID,
    "adjustment_id" UUID,

    CONSTRAINT "statement_item_pkey" PRIMARY KEY ("statement_id","position")
);

ALTER TABLE "guild" ADD COLUMN "second_person_above" BIGINT;

ALTER TABLE "settlement"
  ADD COLUMN "policy_version" INTEGER NOT NULL DEFAULT 1,
  ADD COLUMN "approved_by_id" UUID,
  ADD COLUMN "card_fee_whole" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "card_fee" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "fees" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "losses" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "adjustments" BIGINT NOT NULL DEFAULT 0;

ALTER TABLE "statement"
  ADD COLUMN "card_fee" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "fees" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "losses" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "adjustments" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "carried" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "due" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "pay_method" TEXT;

ALTER TABLE "statement_line"
  ADD COLUMN "card_fee" BIGINT NOT NULL DEFAULT 0,
  ADD COLUMN "ground" TEXT NOT NULL DEFAULT '';

CREATE INDEX "shift_sale_id_idx" ON "shift"("sale_id");
CREATE INDEX "shift_member_id_idx" ON "shift"("member_id");
CREATE INDEX "sale_seller_member_id_idx" ON "sale_seller"("member_id");
CREATE INDEX "adjustment_sale_id_idx" ON "adjustment"("sale_id");
CREATE INDEX "adjustment_member_id_idx" ON "adjustment"("member_id");
CREATE INDEX "settlement_proposal_sale_id_idx" ON "settlement_proposal"("sale_id");
CREATE UNIQUE INDEX "statement_item_adjustment_id_key" ON "statement_item"("adjustment_id");

ALTER TABLE "sale_policy" ADD CONSTRAINT "sale_policy_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "sale_seller" ADD CONSTRAINT "sale_seller_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "sale_seller" ADD CONSTRAINT "sale_seller_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "shift" ADD CONSTRAINT "shift_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "shift" ADD CONSTRAINT "shift_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "adjustment" ADD CONSTRAINT "adjustment_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "adjustment" ADD CONSTRAINT "adjustment_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "settlement_proposal" ADD CONSTRAINT "settlement_proposal_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "statement_item" ADD CONSTRAINT "statement_item_statement_id_fkey" FOREIGN KEY ("statement_id") REFERENCES "statement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "statement_item" ADD CONSTRAINT "statement_item_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "statement_item" ADD CONSTRAINT "statement_item_adjustment_id_fkey" FOREIGN KEY ("adjustment_id") REFERENCES "adjustment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- What the sales of before went by: one percentage for everybody, and nothing else.
INSERT INTO sale_policy (sale_id, version, policy, at)
  SELECT id, 1, jsonb_build_object(
    'rates', jsonb_build_object('ordinary', guild_rate, 'visitor', null, 'committee', null,
      'classes', '[]'::jsonb, 'kinds', '[]'::jsonb, 'hours', '[]'::jsonb),
    'rounding', '{"basis": "line", "halves": "up"}'::jsonb,
    'fees', '{"entry": 0, "firstEntry": null, "late": 0, "lateFor": "member", "missedShift": 0}'::jsonb,
    'cardFee', '{"way": "guild", "rate": 0, "fixed": 0}'::jsonb,
    'loss', '{"rule": "none"}'::jsonb,
    'payout', '{"minimum": 0, "tenders": [{"method": "cheque", "upTo": null}]}'::jsonb), created_at
  FROM sale;
ALTER TABLE "sale" DROP COLUMN "guild_rate";

-- The figures of the statements that stand already are completed, by the owner, with the guard off
-- for this one statement: nothing that they say changes.
ALTER TABLE statement DISABLE TRIGGER keep_rows;
UPDATE statement SET due = greatest(net, 0);
ALTER TABLE statement ENABLE TRIGGER keep_rows;

ALTER TABLE settlement DROP CONSTRAINT settlement_adds_up;
ALTER TABLE settlement
  ADD CONSTRAINT settlement_adds_up CHECK (net = gross - guild_share - card_fee - fees + losses + adjustments),
  ADD CONSTRAINT settlement_second_person CHECK (approved_by_id <> by_id),
  ADD CONSTRAINT settlement_card_fee CHECK (card_fee_whole >= 0);
ALTER TABLE statement DROP CONSTRAINT statement_adds_up;
ALTER TABLE statement
  ADD CONSTRAINT statement_adds_up CHECK (net = gross - guild_share - card_fee - fees + losses + adjustments),
  ADD CONSTRAINT statement_due CHECK (due = 0 OR (due > 0 AND due = net + carried)),
  ADD CONSTRAINT statement_pay_method CHECK (pay_method IN ('cheque', 'transfer', 'cash'));
ALTER TABLE statement_line DROP CONSTRAINT statement_line_adds_up;
ALTER TABLE statement_line ADD CONSTRAINT statement_line_adds_up CHECK (amount = guild_share + card_fee + net);
ALTER TABLE statement_item
  ADD CONSTRAINT statement_item_kind CHECK (kind IN ('entry', 'late', 'missed-shift', 'loss', 'adjustment', 'share-correction')),
  ADD CONSTRAINT statement_item_words CHECK (words <> ''),
  ADD CONSTRAINT statement_item_adjusts CHECK ((kind = 'adjustment') = (adjustment_id IS NOT NULL));

ALTER TABLE sale_policy ADD CONSTRAINT sale_policy_version CHECK (version >= 1);
ALTER TABLE sale_seller ADD CONSTRAINT sale_seller_pay_method CHECK (pay_method IN ('cheque', 'transfer', 'cash'));
ALTER TABLE shift
  ADD CONSTRAINT shift_minutes CHECK (minutes BETWEEN 1 AND 1440),
  ADD CONSTRAINT shift_mark CHECK (mark IN ('worked', 'missed')),
  ADD CONSTRAINT shift_marked CHECK ((mark IS NULL) = (marked_at IS NULL) AND (mark IS NULL) = (marked_by_id IS NULL)),
  ADD CONSTRAINT shift_worked CHECK (CASE mark WHEN 'worked' THEN minutes_worked BETWEEN 1 AND 1440 ELSE minutes_worked IS NULL END);
ALTER TABLE adjustment
  ADD CONSTRAINT adjustment_amount CHECK (amount <> 0),
  ADD CONSTRAINT adjustment_reason CHECK (reason <> '');
ALTER TABLE guild ADD CONSTRAINT guild_second_person CHECK (second_person_above >= 0);

DO $$
DECLARE name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['sale_policy', 'adjustment', 'settlement_proposal', 'statement_item'] LOOP
    EXECUTE format('CREATE TRIGGER keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION keep_as_recorded()', name);
    EXECUTE format('CREATE TRIGGER keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded()', name);
  END LOOP;
END $$;

INSERT INTO account (key, kind, name) VALUES
  ('losses', 'expense', 'Missing pieces made good'),
  ('adjustments', 'expense', 'Adjustments');

-- A statement is paid once, and what it says is due; after a void it can be paid again.
CREATE OR REPLACE FUNCTION payout_once() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE owed bigint;
BEGIN
  SELECT due INTO owed FROM statement WHERE id = NEW.statement_id FOR UPDATE;
  IF EXISTS (SELECT 1 FROM payout p LEFT JOIN payout_void v ON v.payout_id = p.id
             WHERE p.statement_id = NEW.statement_id AND v.payout_id IS NULL) THEN
    RAISE EXCEPTION 'paid-already' USING ERRCODE = 'TB002';
  END IF;
  IF owed <> NEW.amount THEN
    RAISE EXCEPTION 'payout % differs from its statement', NEW.id USING ERRCODE = 'TB001';
  END IF;
  RETURN NEW;
END $$;
