-- Statements on their way to members by e-mail. No address stands here: it is read from the member
-- at the moment of sending. A further message for the same statement is a further row.

CREATE TABLE "statement_mail" (
    "id" UUID NOT NULL,
    "statement_id" UUID NOT NULL,
    "attempt" INTEGER NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "tries" INTEGER NOT NULL DEFAULT 0,
    "next_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_error" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "ended_at" TIMESTAMPTZ(3),
    "returned_at" TIMESTAMPTZ(3),

    CONSTRAINT "statement_mail_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "statement_mail_state_next_at_idx" ON "statement_mail"("state", "next_at");
CREATE UNIQUE INDEX "statement_mail_statement_id_attempt_key" ON "statement_mail"("statement_id", "attempt");

ALTER TABLE "statement_mail" ADD CONSTRAINT "statement_mail_statement_id_fkey" FOREIGN KEY ("statement_id") REFERENCES "statement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE statement_mail
  ADD CONSTRAINT statement_mail_attempt CHECK (attempt >= 1),
  ADD CONSTRAINT statement_mail_state CHECK (state IN ('waiting', 'sent', 'failed', 'returned')),
  ADD CONSTRAINT statement_mail_ended CHECK ((state = 'waiting') = (ended_at IS NULL)),
  ADD CONSTRAINT statement_mail_returned CHECK ((state = 'returned') = (returned_at IS NOT NULL) AND (state = 'returned') = (note <> '')),
  ADD CONSTRAINT statement_mail_tries CHECK (tries >= 0);

-- One message at a time for a statement, whoever asks.
CREATE UNIQUE INDEX statement_mail_one_waiting ON statement_mail (statement_id) WHERE state = 'waiting';
