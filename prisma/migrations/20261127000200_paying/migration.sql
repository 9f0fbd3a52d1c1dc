-- How members wish to be paid, the guild's own account, runs of payouts that are prepared together,
-- and reminders of money that waits.

CREATE TABLE "member_bank" (
    "member_id" UUID NOT NULL,
    "payee" TEXT NOT NULL DEFAULT '',
    "account" TEXT NOT NULL DEFAULT '',
    "bank" TEXT NOT NULL DEFAULT '',
    "pay_method" TEXT,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "member_bank_pkey" PRIMARY KEY ("member_id")
);

CREATE TABLE "paying_setting" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "name" TEXT NOT NULL DEFAULT '',
    "account" TEXT NOT NULL DEFAULT '',
    "bank" TEXT NOT NULL DEFAULT '',
    "remind_first" INTEGER NOT NULL DEFAULT 30,
    "remind_again" INTEGER NOT NULL DEFAULT 60,
    "version" INTEGER NOT NULL DEFAULT 1,

    CONSTRAINT "paying_setting_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "paying_run" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "method" TEXT NOT NULL,
    "sale_id" UUID,
    "day" DATE NOT NULL,
    "first_cheque" TEXT NOT NULL DEFAULT '',
    "heading" JSONB NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "paying_run_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "paying_run_item" (
    "run_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "statement_id" UUID NOT NULL,
    "member_number" INTEGER NOT NULL,
    "payee" TEXT NOT NULL,
    "account" TEXT NOT NULL,
    "bank" TEXT NOT NULL,
    "amount" BIGINT NOT NULL,
    "message" TEXT NOT NULL,
    "reference" TEXT NOT NULL,
    "outcome" TEXT,
    "reason" TEXT NOT NULL DEFAULT '',
    "payout_id" UUID,
    "ended_by_id" UUID,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "paying_run_item_pkey" PRIMARY KEY ("run_id","position")
);

CREATE TABLE "reminder" (
    "statement_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "reminder_pkey" PRIMARY KEY ("statement_id","number")
);

CREATE UNIQUE INDEX "paying_run_number_key" ON "paying_run"("number");
CREATE INDEX "paying_run_sale_id_idx" ON "paying_run"("sale_id");
CREATE UNIQUE INDEX "paying_run_item_payout_id_key" ON "paying_run_item"("payout_id");
CREATE INDEX "paying_run_item_statement_id_idx" ON "paying_run_item"("statement_id");
-- A statement waits in one run at most.
CREATE UNIQUE INDEX "paying_run_item_open" ON "paying_run_item"("statement_id") WHERE outcome IS NULL;

ALTER TABLE "member_bank" ADD CONSTRAINT "member_bank_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paying_run" ADD CONSTRAINT "paying_run_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "paying_run_item" ADD CONSTRAINT "paying_run_item_run_id_fkey" FOREIGN KEY ("run_id") REFERENCES "paying_run"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paying_run_item" ADD CONSTRAINT "paying_run_item_statement_id_fkey" FOREIGN KEY ("statement_id") REFERENCES "statement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "paying_run_item" ADD CONSTRAINT "paying_run_item_payout_id_fkey" FOREIGN KEY ("payout_id") REFERENCES "payout"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "reminder" ADD CONSTRAINT "reminder_statement_id_fkey" FOREIGN KEY ("statement_id") REFERENCES "statement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE member_bank
  ADD CONSTRAINT member_bank_pay_method CHECK (pay_method IN ('cheque', 'transfer', 'cash')),
  ADD CONSTRAINT member_bank_version CHECK (version >= 1);
ALTER TABLE paying_setting
  ADD CONSTRAINT paying_setting_one_row CHECK (id = 1),
  ADD CONSTRAINT paying_setting_plan CHECK (remind_first >= 1 AND remind_again >= 1);
ALTER TABLE paying_run
  ADD CONSTRAINT paying_run_number CHECK (number >= 1),
  ADD CONSTRAINT paying_run_method CHECK (method IN ('cheque', 'transfer', 'cash')),
  ADD CONSTRAINT paying_run_cheque CHECK ((method = 'cheque') = (first_cheque <> ''));
ALTER TABLE paying_run_item
  ADD CONSTRAINT paying_run_item_amount CHECK (amount > 0),
  ADD CONSTRAINT paying_run_item_payee CHECK (payee <> ''),
  ADD CONSTRAINT paying_run_item_outcome CHECK (outcome IN ('paid', 'dropped')),
  ADD CONSTRAINT paying_run_item_ended CHECK (
    (outcome IS NULL) = (ended_by_id IS NULL) AND (outcome IS NULL) = (ended_at IS NULL)
    AND (outcome IS NOT DISTINCT FROM 'paid') = (payout_id IS NOT NULL)
    AND (outcome IS NOT DISTINCT FROM 'dropped') = (reason <> ''));
ALTER TABLE reminder ADD CONSTRAINT reminder_number CHECK (number >= 1);

INSERT INTO paying_setting DEFAULT VALUES;

DO $$
DECLARE name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['paying_run', 'reminder'] LOOP
    EXECUTE format('CREATE TRIGGER keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION keep_as_recorded()', name);
    EXECUTE format('CREATE TRIGGER keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded()', name);
  END LOOP;
END $$;

-- What was prepared stays as it was printed and sent; once it is paid or dropped, so does the outcome.
CREATE FUNCTION keep_prepared() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.outcome IS NULL AND NEW.outcome IS NOT NULL
    AND (NEW.run_id, NEW.position, NEW.statement_id, NEW.member_number, NEW.payee, NEW.account, NEW.bank, NEW.amount, NEW.message, NEW.reference)
      = (OLD.run_id, OLD.position, OLD.statement_id, OLD.member_number, OLD.payee, OLD.account, OLD.bank, OLD.amount, OLD.message, OLD.reference)
  THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION 'what paying runs hold is never changed' USING ERRCODE = 'TB001';
END $$;
CREATE TRIGGER keep_rows BEFORE UPDATE ON paying_run_item FOR EACH ROW EXECUTE FUNCTION keep_prepared();
CREATE TRIGGER keep_all BEFORE DELETE ON paying_run_item FOR EACH ROW EXECUTE FUNCTION keep_as_recorded();
CREATE TRIGGER keep_table BEFORE TRUNCATE ON paying_run_item FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded();

-- Only what is due and unpaid is prepared, under the same lock as a payout of it.
CREATE FUNCTION prepare_once() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE owed bigint;
BEGIN
  SELECT due INTO owed FROM statement WHERE id = NEW.statement_id FOR UPDATE;
  IF EXISTS (SELECT 1 FROM payout p LEFT JOIN payout_void v ON v.payout_id = p.id
             WHERE p.statement_id = NEW.statement_id AND v.payout_id IS NULL) THEN
    RAISE EXCEPTION 'paid-already' USING ERRCODE = 'TB002';
  END IF;
  IF owed <> NEW.amount THEN
    RAISE EXCEPTION 'a paying run differs from statement %', NEW.statement_id USING ERRCODE = 'TB001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER prepare_once BEFORE INSERT ON paying_run_item FOR EACH ROW EXECUTE FUNCTION prepare_once();

-- A statement that waits in a run is paid by that run and in no other way.
CREATE FUNCTION payout_leaves_no_open_item() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT 1 FROM paying_run_item WHERE statement_id = NEW.statement_id AND outcome IS NULL)
    AND NOT EXISTS (SELECT 1 FROM payout_void WHERE payout_id = NEW.id) THEN
    RAISE EXCEPTION 'statement % is paid beside its paying run', NEW.statement_id USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER payout_leaves_no_open_item AFTER INSERT ON payout DEFERRABLE INITIALLY DEFERRED
  FOR EACH ROW EXECUTE FUNCTION payout_leaves_no_open_item();
