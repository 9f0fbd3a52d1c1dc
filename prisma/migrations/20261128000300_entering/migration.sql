-- Entering quickly: which entries came in one list (so that the list can be taken back), which
-- piece of an earlier sale was entered again, and the pieces that a member makes again and again.

CREATE TABLE "item_list" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "source" TEXT NOT NULL,
    "left_out" INTEGER NOT NULL DEFAULT 0,
    "entered_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "item_list_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "item_list_piece" (
    "item_id" UUID NOT NULL,
    "list_id" UUID NOT NULL,
    "row" INTEGER NOT NULL,
    "taken_back_at" TIMESTAMPTZ(3),

    CONSTRAINT "item_list_piece_pkey" PRIMARY KEY ("item_id")
);

CREATE TABLE "item_again" (
    "item_id" UUID NOT NULL,
    "earlier_id" UUID NOT NULL,

    CONSTRAINT "item_again_pkey" PRIMARY KEY ("item_id")
);

CREATE TABLE "usual_piece" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "kind_id" UUID NOT NULL,
    "description" TEXT NOT NULL,
    "technique" TEXT NOT NULL DEFAULT '',
    "fibres" JSONB NOT NULL,
    "size" TEXT NOT NULL DEFAULT '',
    "label_details" JSONB NOT NULL DEFAULT '{}',
    "price" BIGINT NOT NULL,
    "pieces_in_set" INTEGER NOT NULL DEFAULT 1,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "put_away_at" TIMESTAMPTZ(3),

    CONSTRAINT "usual_piece_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "item_list_member_id_id_idx" ON "item_list"("member_id", "id");
CREATE INDEX "item_list_piece_list_id_row_idx" ON "item_list_piece"("list_id", "row");
CREATE INDEX "item_again_earlier_id_idx" ON "item_again"("earlier_id");
CREATE INDEX "usual_piece_member_id_name_idx" ON "usual_piece"("member_id", "name");

ALTER TABLE "item_list" ADD CONSTRAINT "item_list_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_list" ADD CONSTRAINT "item_list_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_list_piece" ADD CONSTRAINT "item_list_piece_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_list_piece" ADD CONSTRAINT "item_list_piece_list_id_fkey" FOREIGN KEY ("list_id") REFERENCES "item_list"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_again" ADD CONSTRAINT "item_again_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_again" ADD CONSTRAINT "item_again_earlier_id_fkey" FOREIGN KEY ("earlier_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "usual_piece" ADD CONSTRAINT "usual_piece_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "usual_piece" ADD CONSTRAINT "usual_piece_kind_id_fkey" FOREIGN KEY ("kind_id") REFERENCES "kind"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

ALTER TABLE "item_list"
  ADD CONSTRAINT item_list_source CHECK (source IN ('spreadsheet', 'unsold')),
  ADD CONSTRAINT item_list_left_out CHECK (left_out >= 0);
ALTER TABLE "item_list_piece" ADD CONSTRAINT item_list_piece_row CHECK ("row" >= 1);
ALTER TABLE "item_again" ADD CONSTRAINT item_again_other CHECK (item_id <> earlier_id);
ALTER TABLE "usual_piece"
  ADD CONSTRAINT usual_piece_name CHECK (name <> '' AND description <> ''),
  ADD CONSTRAINT usual_piece_price CHECK (price >= 1),
  ADD CONSTRAINT usual_piece_set CHECK (pieces_in_set BETWEEN 1 AND 99);
