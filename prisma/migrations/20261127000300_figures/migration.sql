-- What was banked and what the card terminal says, typed in by the treasurer; and from what amount
-- on a member's year is to be reported.

CREATE TABLE "deposit" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "source" TEXT NOT NULL,
    "amount" BIGINT NOT NULL,
    "reference" TEXT NOT NULL DEFAULT '',
    "banked_on" DATE NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "deposit_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "deposit_void" (
    "deposit_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "deposit_void_pkey" PRIMARY KEY ("deposit_id")
);

CREATE TABLE "card_total" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "till_id" UUID,
    "day" DATE NOT NULL,
    "gross" BIGINT NOT NULL,
    "fee" BIGINT NOT NULL,
    "reference" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "card_total_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "card_total_void" (
    "card_total_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "card_total_void_pkey" PRIMARY KEY ("card_total_id")
);

CREATE INDEX "deposit_sale_id_idx" ON "deposit"("sale_id");
CREATE INDEX "card_total_sale_id_idx" ON "card_total"("sale_id");

ALTER TABLE "deposit" ADD CONSTRAINT "deposit_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "deposit_void" ADD CONSTRAINT "deposit_void_deposit_id_fkey" FOREIGN KEY ("deposit_id") REFERENCES "deposit"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "card_total" ADD CONSTRAINT "card_total_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "card_total" ADD CONSTRAINT "card_total_till_id_fkey" FOREIGN KEY ("till_id") REFERENCES "till"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "card_total_void" ADD CONSTRAINT "card_total_void_card_total_id_fkey" FOREIGN KEY ("card_total_id") REFERENCES "card_total"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "guild"
  ADD COLUMN "report_threshold" BIGINT,
  ADD COLUMN "report_counts" TEXT NOT NULL DEFAULT 'paid',
  ADD COLUMN "report_from" TEXT NOT NULL DEFAULT 'at';

ALTER TABLE guild
  ADD CONSTRAINT guild_report_threshold CHECK (report_threshold >= 1),
  ADD CONSTRAINT guild_report_counts CHECK (report_counts IN ('sold', 'paid')),
  ADD CONSTRAINT guild_report_from CHECK (report_from IN ('at', 'over'));
ALTER TABLE deposit
  ADD CONSTRAINT deposit_source CHECK (source IN ('cash-box', 'safe', 'cheques')),
  ADD CONSTRAINT deposit_amount CHECK (amount >= 1);
ALTER TABLE card_total
  ADD CONSTRAINT card_total_amounts CHECK (gross >= 0 AND fee >= 0 AND gross + fee > 0),
  -- A fee alone is a charge of its own; beside takings it is never more than they are.
  ADD CONSTRAINT card_total_fee CHECK (gross = 0 OR fee <= gross);
ALTER TABLE deposit_void ADD CONSTRAINT deposit_void_reason CHECK (reason <> '');
ALTER TABLE card_total_void ADD CONSTRAINT card_total_void_reason CHECK (reason <> '');

DO $$
DECLARE name text;
BEGIN
  FOREACH name IN ARRAY ARRAY['deposit', 'deposit_void', 'card_total', 'card_total_void'] LOOP
    EXECUTE format('CREATE TRIGGER keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION keep_as_recorded()', name);
    EXECUTE format('CREATE TRIGGER keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded()', name);
  END LOOP;
END $$;
