-- A member's own notes from the loom: the plan of a warp, and what a piece took to make. Both are
-- the member's alone: no role reads another's, and no archive of a sale holds them.

CREATE TABLE "warp_sheet" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "sheet" JSONB NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "created_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "changed_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "put_away_at" TIMESTAMPTZ(3),

    CONSTRAINT "warp_sheet_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "item_making" (
    "item_id" UUID NOT NULL,
    "warp_sheet_id" UUID,
    "minutes" INTEGER,
    "materials" BIGINT,

    CONSTRAINT "item_making_pkey" PRIMARY KEY ("item_id")
);

CREATE INDEX "warp_sheet_member_id_changed_at_idx" ON "warp_sheet"("member_id", "changed_at");
CREATE INDEX "item_making_warp_sheet_id_idx" ON "item_making"("warp_sheet_id");

ALTER TABLE "warp_sheet" ADD CONSTRAINT "warp_sheet_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_making" ADD CONSTRAINT "item_making_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_making" ADD CONSTRAINT "item_making_warp_sheet_id_fkey" FOREIGN KEY ("warp_sheet_id") REFERENCES "warp_sheet"("id") ON DELETE SET NULL ON UPDATE CASCADE;

ALTER TABLE "warp_sheet" ADD CONSTRAINT warp_sheet_name CHECK (name <> '');
ALTER TABLE "item_making" ADD CONSTRAINT making_minutes CHECK (minutes > 0 AND minutes <= 600000);
ALTER TABLE "item_making" ADD CONSTRAINT making_materials CHECK (materials >= 0);
