
-- CreateTable
CREATE TABLE "guild" (
    "id" INTEGER NOT NULL DEFAULT 1,
    "name" TEXT NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "locale" TEXT NOT NULL,
    "time_zone" TEXT NOT NULL,
    "tag_length" INTEGER NOT NULL DEFAULT 8,
    "address" TEXT NOT NULL DEFAULT '',
    "show_member_name" BOOLEAN NOT NULL DEFAULT false,
    "paper" TEXT NOT NULL DEFAULT 'letter',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "guild_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "one_use_link" (
    "id" UUID NOT NULL,
    "purpose" TEXT NOT NULL,
    "member_id" UUID,
    "token_hash" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "used_at" TIMESTAMPTZ(3),

    CONSTRAINT "one_use_link_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "member" (
    "id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "name" TEXT NOT NULL,
    "email" TEXT,
    "phone" TEXT NOT NULL DEFAULT '',
    "status" TEXT NOT NULL DEFAULT 'active',
    "roles" TEXT[],
    "passphrase_hash" TEXT,
    "next_item_number" INTEGER NOT NULL DEFAULT 1,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "member_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "session" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "refresh_hash" TEXT NOT NULL,
    "previous_refresh_hash" TEXT,
    "rotated_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "device" TEXT NOT NULL DEFAULT '',
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expires_at" TIMESTAMPTZ(3) NOT NULL,
    "ended_at" TIMESTAMPTZ(3),

    CONSTRAINT "session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sign_in_throttle" (
    "bucket" TEXT NOT NULL,
    "failures" INTEGER NOT NULL,
    "last_failed_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "sign_in_throttle_pkey" PRIMARY KEY ("bucket")
);

-- CreateTable
CREATE TABLE "kind" (
    "id" UUID NOT NULL,
    "code" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "position" INTEGER NOT NULL,
    "active" BOOLEAN NOT NULL DEFAULT true,

    CONSTRAINT "kind_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "sale" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "place" TEXT NOT NULL DEFAULT '',
    "first_day" DATE NOT NULL,
    "last_day" DATE NOT NULL,
    "entry_deadline" TIMESTAMPTZ(3) NOT NULL,
    "guild_rate" INTEGER NOT NULL,
    "tax_rate" INTEGER NOT NULL DEFAULT 0,
    "tax_label" TEXT NOT NULL DEFAULT 'Sales tax',
    "price_step" BIGINT NOT NULL DEFAULT 1,
    "price_floor" BIGINT NOT NULL DEFAULT 1,
    "item_limit" INTEGER,
    "agreement_version" INTEGER NOT NULL DEFAULT 1,
    "receipt_footer" TEXT NOT NULL DEFAULT '',
    "stage" TEXT NOT NULL DEFAULT 'planning',
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "sale_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "kind_limit" (
    "sale_id" UUID NOT NULL,
    "kind_id" UUID NOT NULL,
    "most" INTEGER NOT NULL,

    CONSTRAINT "kind_limit_pkey" PRIMARY KEY ("sale_id","kind_id")
);

-- CreateTable
CREATE TABLE "agreement" (
    "sale_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "text" TEXT NOT NULL,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "agreement_pkey" PRIMARY KEY ("sale_id","version")
);

-- CreateTable
CREATE TABLE "acceptance" (
    "sale_id" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "member_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "acceptance_pkey" PRIMARY KEY ("sale_id","version","member_id")
);

-- CreateTable
CREATE TABLE "stage_change" (
    "id" BIGSERIAL NOT NULL,
    "sale_id" UUID NOT NULL,
    "from_stage" TEXT NOT NULL,
    "to_stage" TEXT NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "stage_change_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "item" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "tag" TEXT NOT NULL,
    "kind_id" UUID NOT NULL,
    "description" TEXT NOT NULL,
    "technique" TEXT NOT NULL DEFAULT '',
    "fibres" JSONB NOT NULL,
    "size" TEXT NOT NULL DEFAULT '',
    "colours" TEXT NOT NULL DEFAULT '',
    "care" TEXT NOT NULL DEFAULT '',
    "price" BIGINT NOT NULL,
    "quantity" INTEGER NOT NULL,
    "pieces_in_set" INTEGER NOT NULL DEFAULT 1,
    "donated" BOOLEAN NOT NULL DEFAULT false,
    "version" INTEGER NOT NULL DEFAULT 1,
    "entered_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "withdrawn_at" TIMESTAMPTZ(3),

    CONSTRAINT "item_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "item_count" (
    "item_id" UUID NOT NULL,
    "entered" INTEGER NOT NULL DEFAULT 0,
    "with_member" INTEGER NOT NULL DEFAULT 0,
    "on_floor" INTEGER NOT NULL DEFAULT 0,
    "with_buyer" INTEGER NOT NULL DEFAULT 0,
    "with_guild" INTEGER NOT NULL DEFAULT 0,
    "lost" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "item_count_pkey" PRIMARY KEY ("item_id")
);

-- CreateTable
CREATE TABLE "movement" (
    "id" BIGSERIAL NOT NULL,
    "item_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "from_place" TEXT NOT NULL,
    "to_place" TEXT NOT NULL,
    "quantity" INTEGER NOT NULL,
    "receipt_line_id" UUID,
    "reason" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "movement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "check_in" (
    "id" BIGSERIAL NOT NULL,
    "item_id" UUID NOT NULL,
    "decision" TEXT NOT NULL,
    "quantity" INTEGER NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "check_in_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "till" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "name" TEXT NOT NULL,

    CONSTRAINT "till_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "till_session" (
    "id" UUID NOT NULL,
    "till_id" UUID NOT NULL,
    "float" BIGINT NOT NULL,
    "opened_by_id" UUID NOT NULL,
    "opened_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "closed_at" TIMESTAMPTZ(3),

    CONSTRAINT "till_session_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "cash_up" (
    "till_session_id" UUID NOT NULL,
    "expected" BIGINT NOT NULL,
    "counted" BIGINT NOT NULL,
    "difference" BIGINT NOT NULL,
    "witness" TEXT NOT NULL DEFAULT '',
    "note" TEXT NOT NULL DEFAULT '',
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "cash_up_pkey" PRIMARY KEY ("till_session_id")
);

-- CreateTable
CREATE TABLE "receipt" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "till_id" UUID NOT NULL,
    "till_session_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "kind" TEXT NOT NULL,
    "reverses_id" UUID,
    "subtotal" BIGINT NOT NULL,
    "tax" BIGINT NOT NULL,
    "total" BIGINT NOT NULL,
    "cash_given" BIGINT NOT NULL DEFAULT 0,
    "change" BIGINT NOT NULL DEFAULT 0,
    "fingerprint" TEXT NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "cashier_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "receipt_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "receipt_line" (
    "id" UUID NOT NULL,
    "receipt_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "item_id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "tag" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "quantity" INTEGER NOT NULL,
    "unit_price" BIGINT NOT NULL,
    "amount" BIGINT NOT NULL,
    "tax" BIGINT NOT NULL,
    "donated" BOOLEAN NOT NULL,
    "reverses_line_id" UUID,

    CONSTRAINT "receipt_line_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "receipt_tender" (
    "id" BIGSERIAL NOT NULL,
    "receipt_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "amount" BIGINT NOT NULL,
    "reference" TEXT NOT NULL DEFAULT '',

    CONSTRAINT "receipt_tender_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "discrepancy" (
    "id" BIGSERIAL NOT NULL,
    "sale_id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "receipt_id" UUID,
    "detail" JSONB NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "discrepancy_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "account" (
    "key" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "name" TEXT NOT NULL,

    CONSTRAINT "account_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "journal_entry" (
    "id" UUID NOT NULL,
    "number" BIGSERIAL NOT NULL,
    "kind" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "sale_id" UUID,
    "subject_id" UUID NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "journal_entry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "posting" (
    "id" BIGSERIAL NOT NULL,
    "entry_id" UUID NOT NULL,
    "account_key" TEXT NOT NULL,
    "amount" BIGINT NOT NULL,

    CONSTRAINT "posting_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "settlement" (
    "id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "gross" BIGINT NOT NULL,
    "guild_share" BIGINT NOT NULL,
    "net" BIGINT NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "settlement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "statement" (
    "id" UUID NOT NULL,
    "settlement_id" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "member_id" UUID NOT NULL,
    "gross" BIGINT NOT NULL,
    "guild_share" BIGINT NOT NULL,
    "net" BIGINT NOT NULL,
    "heading" JSONB NOT NULL,

    CONSTRAINT "statement_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "statement_line" (
    "receipt_line_id" UUID NOT NULL,
    "statement_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "sold_at" TIMESTAMPTZ(3) NOT NULL,
    "tag" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "quantity" INTEGER NOT NULL,
    "amount" BIGINT NOT NULL,
    "rate" INTEGER NOT NULL,
    "guild_share" BIGINT NOT NULL,
    "net" BIGINT NOT NULL,
    "donated" BOOLEAN NOT NULL,

    CONSTRAINT "statement_line_pkey" PRIMARY KEY ("receipt_line_id")
);

-- CreateTable
CREATE TABLE "statement_unsold" (
    "statement_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "tag" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "quantity" INTEGER NOT NULL,
    "price" BIGINT NOT NULL,

    CONSTRAINT "statement_unsold_pkey" PRIMARY KEY ("statement_id","position")
);

-- CreateTable
CREATE TABLE "payout" (
    "id" UUID NOT NULL,
    "statement_id" UUID NOT NULL,
    "attempt" INTEGER NOT NULL,
    "method" TEXT NOT NULL,
    "reference" TEXT NOT NULL,
    "amount" BIGINT NOT NULL,
    "paid_on" DATE NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "payout_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "payout_void" (
    "payout_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "payout_void_pkey" PRIMARY KEY ("payout_id")
);

-- CreateTable
CREATE TABLE "keyed_deed" (
    "owner" TEXT NOT NULL,
    "key" TEXT NOT NULL,
    "deed" TEXT NOT NULL,
    "fingerprint" TEXT NOT NULL,
    "result" JSONB NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "keyed_deed_pkey" PRIMARY KEY ("owner","key")
);

-- CreateTable
CREATE TABLE "audit" (
    "id" BIGSERIAL NOT NULL,
    "deed" TEXT NOT NULL,
    "subject_id" TEXT NOT NULL,
    "detail" JSONB NOT NULL,
    "by_id" UUID,
    "request_id" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "audit_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "one_use_link_token_hash_key" ON "one_use_link"("token_hash");

-- CreateIndex
CREATE INDEX "one_use_link_member_id_idx" ON "one_use_link"("member_id");

-- CreateIndex
CREATE UNIQUE INDEX "member_number_key" ON "member"("number");

-- CreateIndex
CREATE UNIQUE INDEX "member_email_key" ON "member"("email");

-- CreateIndex
CREATE UNIQUE INDEX "session_refresh_hash_key" ON "session"("refresh_hash");

-- CreateIndex
CREATE UNIQUE INDEX "session_previous_refresh_hash_key" ON "session"("previous_refresh_hash");

-- CreateIndex
CREATE INDEX "session_member_id_idx" ON "session"("member_id");

-- CreateIndex
CREATE UNIQUE INDEX "kind_code_key" ON "kind"("code");

-- CreateIndex
CREATE INDEX "stage_change_sale_id_idx" ON "stage_change"("sale_id");

-- CreateIndex
CREATE UNIQUE INDEX "item_tag_key" ON "item"("tag");

-- CreateIndex
CREATE INDEX "item_sale_id_member_id_idx" ON "item"("sale_id", "member_id");

-- CreateIndex
CREATE UNIQUE INDEX "item_member_id_number_key" ON "item"("member_id", "number");

-- CreateIndex
CREATE INDEX "movement_item_id_idx" ON "movement"("item_id");

-- CreateIndex
CREATE INDEX "movement_receipt_line_id_idx" ON "movement"("receipt_line_id");

-- CreateIndex
CREATE INDEX "check_in_item_id_idx" ON "check_in"("item_id");

-- CreateIndex
CREATE UNIQUE INDEX "till_sale_id_number_key" ON "till"("sale_id", "number");

-- CreateIndex
CREATE INDEX "till_session_till_id_idx" ON "till_session"("till_id");

-- CreateIndex
CREATE INDEX "receipt_sale_id_at_idx" ON "receipt"("sale_id", "at");

-- CreateIndex
CREATE INDEX "receipt_till_session_id_idx" ON "receipt"("till_session_id");

-- CreateIndex
CREATE INDEX "receipt_reverses_id_idx" ON "receipt"("reverses_id");

-- CreateIndex
CREATE UNIQUE INDEX "receipt_till_id_number_key" ON "receipt"("till_id", "number");

-- CreateIndex
CREATE INDEX "receipt_line_item_id_idx" ON "receipt_line"("item_id");

-- CreateIndex
CREATE INDEX "receipt_line_member_id_idx" ON "receipt_line"("member_id");

-- CreateIndex
CREATE INDEX "receipt_line_reverses_line_id_idx" ON "receipt_line"("reverses_line_id");

-- CreateIndex
CREATE UNIQUE INDEX "receipt_line_receipt_id_position_key" ON "receipt_line"("receipt_id", "position");

-- CreateIndex
CREATE INDEX "receipt_tender_receipt_id_idx" ON "receipt_tender"("receipt_id");

-- CreateIndex
CREATE INDEX "discrepancy_sale_id_idx" ON "discrepancy"("sale_id");

-- CreateIndex
CREATE UNIQUE INDEX "journal_entry_number_key" ON "journal_entry"("number");

-- CreateIndex
CREATE INDEX "journal_entry_sale_id_idx" ON "journal_entry"("sale_id");

-- CreateIndex
CREATE UNIQUE INDEX "journal_entry_kind_subject_id_key" ON "journal_entry"("kind", "subject_id");

-- CreateIndex
CREATE INDEX "posting_entry_id_idx" ON "posting"("entry_id");

-- CreateIndex
CREATE INDEX "posting_account_key_idx" ON "posting"("account_key");

-- CreateIndex
CREATE UNIQUE INDEX "settlement_sale_id_number_key" ON "settlement"("sale_id", "number");

-- CreateIndex
CREATE UNIQUE INDEX "statement_number_key" ON "statement"("number");

-- CreateIndex
CREATE INDEX "statement_member_id_idx" ON "statement"("member_id");

-- CreateIndex
CREATE UNIQUE INDEX "statement_settlement_id_member_id_key" ON "statement"("settlement_id", "member_id");

-- CreateIndex
CREATE INDEX "statement_line_statement_id_idx" ON "statement_line"("statement_id");

-- CreateIndex
CREATE UNIQUE INDEX "payout_statement_id_attempt_key" ON "payout"("statement_id", "attempt");

-- CreateIndex
CREATE INDEX "audit_subject_id_idx" ON "audit"("subject_id");

-- CreateIndex
CREATE INDEX "audit_at_idx" ON "audit"("at");

-- AddForeignKey
ALTER TABLE "one_use_link" ADD CONSTRAINT "one_use_link_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "session" ADD CONSTRAINT "session_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kind_limit" ADD CONSTRAINT "kind_limit_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "kind_limit" ADD CONSTRAINT "kind_limit_kind_id_fkey" FOREIGN KEY ("kind_id") REFERENCES "kind"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "agreement" ADD CONSTRAINT "agreement_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "acceptance" ADD CONSTRAINT "acceptance_sale_id_version_fkey" FOREIGN KEY ("sale_id", "version") REFERENCES "agreement"("sale_id", "version") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "acceptance" ADD CONSTRAINT "acceptance_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "stage_change" ADD CONSTRAINT "stage_change_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "item" ADD CONSTRAINT "item_kind_id_fkey" FOREIGN KEY ("kind_id") REFERENCES "kind"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "item_count" ADD CONSTRAINT "item_count_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "movement" ADD CONSTRAINT "movement_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "movement" ADD CONSTRAINT "movement_receipt_line_id_fkey" FOREIGN KEY ("receipt_line_id") REFERENCES "receipt_line"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "check_in" ADD CONSTRAINT "check_in_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "till" ADD CONSTRAINT "till_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "till_session" ADD CONSTRAINT "till_session_till_id_fkey" FOREIGN KEY ("till_id") REFERENCES "till"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "cash_up" ADD CONSTRAINT "cash_up_till_session_id_fkey" FOREIGN KEY ("till_session_id") REFERENCES "till_session"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt" ADD CONSTRAINT "receipt_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt" ADD CONSTRAINT "receipt_till_id_fkey" FOREIGN KEY ("till_id") REFERENCES "till"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt" ADD CONSTRAINT "receipt_till_session_id_fkey" FOREIGN KEY ("till_session_id") REFERENCES "till_session"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt" ADD CONSTRAINT "receipt_reverses_id_fkey" FOREIGN KEY ("reverses_id") REFERENCES "receipt"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt_line" ADD CONSTRAINT "receipt_line_receipt_id_fkey" FOREIGN KEY ("receipt_id") REFERENCES "receipt"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt_line" ADD CONSTRAINT "receipt_line_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt_line" ADD CONSTRAINT "receipt_line_reverses_line_id_fkey" FOREIGN KEY ("reverses_line_id") REFERENCES "receipt_line"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "receipt_tender" ADD CONSTRAINT "receipt_tender_receipt_id_fkey" FOREIGN KEY ("receipt_id") REFERENCES "receipt"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "posting" ADD CONSTRAINT "posting_entry_id_fkey" FOREIGN KEY ("entry_id") REFERENCES "journal_entry"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "posting" ADD CONSTRAINT "posting_account_key_fkey" FOREIGN KEY ("account_key") REFERENCES "account"("key") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "settlement" ADD CONSTRAINT "settlement_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "statement" ADD CONSTRAINT "statement_settlement_id_fkey" FOREIGN KEY ("settlement_id") REFERENCES "settlement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "statement" ADD CONSTRAINT "statement_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "statement_line" ADD CONSTRAINT "statement_line_receipt_line_id_fkey" FOREIGN KEY ("receipt_line_id") REFERENCES "receipt_line"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "statement_line" ADD CONSTRAINT "statement_line_statement_id_fkey" FOREIGN KEY ("statement_id") REFERENCES "statement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "statement_unsold" ADD CONSTRAINT "statement_unsold_statement_id_fkey" FOREIGN KEY ("statement_id") REFERENCES "statement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "payout" ADD CONSTRAINT "payout_statement_id_fkey" FOREIGN KEY ("statement_id") REFERENCES "statement"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "payout_void" ADD CONSTRAINT "payout_void_payout_id_fkey" FOREIGN KEY ("payout_id") REFERENCES "payout"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

