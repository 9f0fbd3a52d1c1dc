-- Keeping in touch: which letters a member wants and in what language, the letters on their way,
-- and the times at which members bring their pieces to a sale.

ALTER TABLE "member" ADD COLUMN "language" TEXT;
ALTER TABLE "sale" ADD COLUMN "reminder_days" INTEGER[] DEFAULT ARRAY[14, 2]::INTEGER[];

CREATE TABLE "letter_choice" (
    "member_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "wanted" BOOLEAN NOT NULL,

    CONSTRAINT "letter_choice_pkey" PRIMARY KEY ("member_id", "kind")
);

CREATE TABLE "member_mail" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "subject_id" UUID NOT NULL,
    "occasion" TEXT NOT NULL DEFAULT '',
    "sale_id" UUID NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "tries" INTEGER NOT NULL DEFAULT 0,
    "next_at" TIMESTAMPTZ(3) NOT NULL,
    "first_try_at" TIMESTAMPTZ(3),
    "last_error" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "ended_at" TIMESTAMPTZ(3),
    "returned_at" TIMESTAMPTZ(3),

    CONSTRAINT "member_mail_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "check_in_time" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "starts_at" TIMESTAMPTZ(3) NOT NULL,
    "minutes" INTEGER NOT NULL,
    "places" INTEGER NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "check_in_time_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "check_in_choice" (
    "sale_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "time_id" UUID NOT NULL,
    "chosen_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "check_in_choice_pkey" PRIMARY KEY ("sale_id", "member_id")
);

-- The same letter never goes to the same member twice.
CREATE UNIQUE INDEX "member_mail_member_id_kind_subject_id_occasion_key" ON "member_mail"("member_id", "kind", "subject_id", "occasion");
CREATE INDEX "member_mail_state_next_at_idx" ON "member_mail"("state", "next_at");
CREATE INDEX "member_mail_sale_id_created_at_id_idx" ON "member_mail"("sale_id", "created_at", "id");
CREATE INDEX "check_in_time_sale_id_starts_at_idx" ON "check_in_time"("sale_id", "starts_at");
CREATE UNIQUE INDEX "check_in_time_id_sale_id_key" ON "check_in_time"("id", "sale_id");
CREATE INDEX "check_in_choice_time_id_idx" ON "check_in_choice"("time_id");

ALTER TABLE "letter_choice" ADD CONSTRAINT "letter_choice_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "member_mail" ADD CONSTRAINT "member_mail_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "member_mail" ADD CONSTRAINT "member_mail_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "check_in_time" ADD CONSTRAINT "check_in_time_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "check_in_choice" ADD CONSTRAINT "check_in_choice_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "check_in_choice" ADD CONSTRAINT "check_in_choice_time_id_sale_id_fkey" FOREIGN KEY ("time_id", "sale_id") REFERENCES "check_in_time"("id", "sale_id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "member" ADD CONSTRAINT member_language CHECK (language IN ('en', 'fr', 'es', 'de'));
ALTER TABLE "sale" ADD CONSTRAINT sale_reminder_days
  CHECK (reminder_days IS NOT NULL AND cardinality(reminder_days) <= 4 AND 1 <= ALL (reminder_days) AND 60 >= ALL (reminder_days));
ALTER TABLE "letter_choice" ADD CONSTRAINT letter_choice_kind
  CHECK (kind IN ('entry-deadline', 'check-in-time', 'first-sold', 'statement-ready'));
ALTER TABLE member_mail
  ADD CONSTRAINT member_mail_kind CHECK (kind IN ('entry-deadline', 'check-in-time', 'first-sold', 'statement-ready')),
  ADD CONSTRAINT member_mail_state CHECK (state IN ('waiting', 'sent', 'failed', 'skipped', 'returned')),
  ADD CONSTRAINT member_mail_ended CHECK ((state = 'waiting') = (ended_at IS NULL)),
  ADD CONSTRAINT member_mail_returned CHECK ((state = 'returned') = (returned_at IS NOT NULL) AND (state = 'returned') = (note <> '')),
  ADD CONSTRAINT member_mail_tries CHECK (tries >= 0);
ALTER TABLE check_in_time
  ADD CONSTRAINT check_in_time_minutes CHECK (minutes BETWEEN 5 AND 960),
  ADD CONSTRAINT check_in_time_places CHECK (places BETWEEN 1 AND 500);
