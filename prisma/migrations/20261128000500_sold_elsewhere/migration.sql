-- What a member sold elsewhere, at a shop, a fair or to a friend: the member's own note. It stands
-- outside the guild's books, so nothing of the two ledgers refers to it.

CREATE TABLE "elsewhere_sale" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "item_id" UUID,
    "kind_id" UUID NOT NULL,
    "day" DATE NOT NULL,
    "outlet" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "colours" TEXT NOT NULL DEFAULT '',
    "fibres" JSONB NOT NULL,
    "quantity" INTEGER NOT NULL,
    "price" BIGINT NOT NULL,
    "kept_rate" INTEGER,
    "kept_amount" BIGINT,
    "minutes" INTEGER,
    "materials" BIGINT,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "taken_back_at" TIMESTAMPTZ(3),

    CONSTRAINT "elsewhere_sale_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "elsewhere_sale_member_id_day_idx" ON "elsewhere_sale"("member_id", "day");
CREATE INDEX "elsewhere_sale_item_id_idx" ON "elsewhere_sale"("item_id");

ALTER TABLE "elsewhere_sale" ADD CONSTRAINT "elsewhere_sale_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT "elsewhere_sale_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE SET NULL ON UPDATE CASCADE;
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT "elsewhere_sale_kind_id_fkey" FOREIGN KEY ("kind_id") REFERENCES "kind"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_outlet CHECK (outlet <> '');
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_description CHECK (description <> '');
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_quantity CHECK (quantity > 0);
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_price CHECK (price >= 0);
-- What an outlet keeps is a percentage or an amount for all together, never both.
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_kept CHECK (kept_rate IS NULL OR kept_amount IS NULL);
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_kept_rate CHECK (kept_rate BETWEEN 0 AND 100000);
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_kept_amount CHECK (kept_amount BETWEEN 0 AND price * quantity);
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_minutes CHECK (minutes > 0 AND minutes <= 600000);
ALTER TABLE "elsewhere_sale" ADD CONSTRAINT elsewhere_materials CHECK (materials >= 0);
