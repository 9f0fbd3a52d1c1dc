-- Lawful labels: whose rules apply, what a label needs to know, what was printed and on what stock.
ALTER TABLE guild
  ADD COLUMN jurisdiction TEXT NOT NULL DEFAULT 'us',
  ADD COLUMN label_languages TEXT[] DEFAULT ARRAY[]::TEXT[],
  ADD COLUMN label_identity TEXT NOT NULL DEFAULT 'member',
  ADD COLUMN registered_number TEXT NOT NULL DEFAULT '',
  ADD COLUMN care_symbols BOOLEAN NOT NULL DEFAULT false,
  ADD CONSTRAINT guild_jurisdiction CHECK (jurisdiction ~ '^[a-z][a-z-]{1,19}$'),
  ADD CONSTRAINT guild_label_identity CHECK (label_identity IN ('member', 'guild', 'number'));

-- A guild that is there already gets the rules of the country that its language tag names.
UPDATE guild SET jurisdiction = CASE
  WHEN locale ~* '-US$' THEN 'us'
  WHEN locale ~* '-CA$' THEN 'canada'
  WHEN locale ~* '-GB$' THEN 'uk'
  WHEN locale ~* '-AU$' THEN 'australia'
  WHEN locale ~* '-(AT|BE|BG|HR|CY|CZ|DK|EE|FI|FR|DE|GR|HU|IE|IT|LV|LT|LU|MT|NL|PL|PT|RO|SK|SI|ES|SE)$' THEN 'eu'
  ELSE 'us' END;

ALTER TABLE member
  ADD COLUMN business_name TEXT NOT NULL DEFAULT '',
  ADD COLUMN postal_line TEXT NOT NULL DEFAULT '',
  ADD COLUMN registered_number TEXT NOT NULL DEFAULT '';

ALTER TABLE kind ADD COLUMN label_group TEXT NOT NULL DEFAULT '';

-- Care is worked out from fibres, kind and finish. What members chose before is kept as a wish for
-- gentler washing; where it was harder than the rules advise, the rules' advice is what prints.
ALTER TABLE item ADD COLUMN label_details JSONB NOT NULL DEFAULT '{}';
UPDATE item SET label_details = CASE
  WHEN care LIKE 'hand-wash%' THEN '{"care": {"chosen": {"wash": "hand-30"}, "tested": false}}'::jsonb
  WHEN care LIKE 'machine-gentle%' THEN '{"care": {"chosen": {"wash": "gentle-30"}, "tested": false}}'::jsonb
  WHEN care IN ('spot-clean', 'shake-out', 'dry-clean', 'not-for-washing')
    THEN '{"care": {"chosen": {"wash": "none"}, "tested": false}}'::jsonb
  ELSE '{}'::jsonb END
WHERE care <> '';
ALTER TABLE item DROP COLUMN care;

-- CreateTable
CREATE TABLE "print_job" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "what" TEXT NOT NULL,
    "options" JSONB NOT NULL,
    "about" TEXT NOT NULL DEFAULT '',
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "total" INTEGER NOT NULL,
    "done" INTEGER NOT NULL DEFAULT 0,
    "problem" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "beat_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "print_job_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "tag_print" (
    "id" BIGSERIAL NOT NULL,
    "job_id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "what" TEXT NOT NULL,
    "stock" TEXT NOT NULL,
    "copies" INTEGER NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "again" BOOLEAN NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "tag_print_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "label_stock" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "shape" JSONB NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "retired_at" TIMESTAMPTZ(3),
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "label_stock_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "printer" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "nudge_x" INTEGER NOT NULL DEFAULT 0,
    "nudge_y" INTEGER NOT NULL DEFAULT 0,
    "scale_x" INTEGER NOT NULL DEFAULT 1000,
    "scale_y" INTEGER NOT NULL DEFAULT 1000,
    "version" INTEGER NOT NULL DEFAULT 1,
    "retired_at" TIMESTAMPTZ(3),
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "printer_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "print_job_state_idx" ON "print_job"("state");
CREATE INDEX "print_job_sale_id_idx" ON "print_job"("sale_id");
CREATE INDEX "tag_print_item_id_what_idx" ON "tag_print"("item_id", "what");
CREATE INDEX "tag_print_job_id_idx" ON "tag_print"("job_id");

-- AddForeignKey
ALTER TABLE "print_job" ADD CONSTRAINT "print_job_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "tag_print" ADD CONSTRAINT "tag_print_job_id_fkey" FOREIGN KEY ("job_id") REFERENCES "print_job"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "tag_print" ADD CONSTRAINT "tag_print_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE print_job
  ADD CONSTRAINT print_job_what CHECK (what IN ('tag', 'care-strip')),
  ADD CONSTRAINT print_job_state CHECK (state IN ('waiting', 'running', 'ready', 'cancelled', 'failed')),
  ADD CONSTRAINT print_job_total CHECK (total >= 1 AND done BETWEEN 0 AND total),
  ADD CONSTRAINT print_job_ended CHECK ((ended_at IS NULL) = (state IN ('waiting', 'running'))),
  ADD CONSTRAINT print_job_problem CHECK ((problem <> '') = (state = 'failed'));
ALTER TABLE tag_print
  ADD CONSTRAINT tag_print_what CHECK (what IN ('tag', 'care-strip')),
  ADD CONSTRAINT tag_print_copies CHECK (copies >= 1);
ALTER TABLE label_stock ADD CONSTRAINT label_stock_name CHECK (name <> '');
ALTER TABLE printer
  ADD CONSTRAINT printer_name CHECK (name <> ''),
  ADD CONSTRAINT printer_nudge CHECK (nudge_x BETWEEN -15000 AND 15000 AND nudge_y BETWEEN -15000 AND 15000),
  ADD CONSTRAINT printer_scale CHECK (scale_x BETWEEN 950 AND 1050 AND scale_y BETWEEN 950 AND 1050);

-- What was printed stays as it was recorded. A print that ended stays ended.
CREATE TRIGGER keep_rows BEFORE UPDATE OR DELETE ON tag_print FOR EACH ROW EXECUTE FUNCTION keep_as_recorded();
CREATE TRIGGER keep_table BEFORE TRUNCATE ON tag_print FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded();
CREATE TRIGGER keep_ended BEFORE UPDATE OR DELETE ON print_job FOR EACH ROW
  WHEN (OLD.ended_at IS NOT NULL) EXECUTE FUNCTION keep_as_recorded();
