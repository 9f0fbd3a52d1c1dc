-- A buyer's receipt by e-mail. The address stays only until the message is out or given up.

-- CreateTable
CREATE TABLE "receipt_mail" (
    "id" UUID NOT NULL,
    "receipt_id" UUID NOT NULL,
    "address" TEXT,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "tries" INTEGER NOT NULL DEFAULT 0,
    "next_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "last_error" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "receipt_mail_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "receipt_mail_state_next_at_idx" ON "receipt_mail"("state", "next_at");
CREATE INDEX "receipt_mail_receipt_id_idx" ON "receipt_mail"("receipt_id");

-- AddForeignKey
ALTER TABLE "receipt_mail" ADD CONSTRAINT "receipt_mail_receipt_id_fkey" FOREIGN KEY ("receipt_id") REFERENCES "receipt"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Whatever the service does, an address cannot outlive its message.
ALTER TABLE receipt_mail
  ADD CONSTRAINT receipt_mail_state CHECK (state IN ('waiting', 'sent', 'failed')),
  ADD CONSTRAINT receipt_mail_address CHECK ((state = 'waiting') = (address IS NOT NULL)),
  ADD CONSTRAINT receipt_mail_ended CHECK ((state = 'waiting') = (ended_at IS NULL)),
  ADD CONSTRAINT receipt_mail_tries CHECK (tries >= 0);
