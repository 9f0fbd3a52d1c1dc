-- A till asks what changed since a moment and is told each piece whole, so only the newest change
-- of a piece counts. It takes the place of the one before: the list never outgrows the pieces, and
-- there is nothing to clear away that some till might still ask for.
--
-- The row of a piece is written by whoever has its item or its count locked, each under its own
-- source, so nobody waits here. A writer that began earlier may put a smaller transaction number in
-- place of a greater one. A till with a cursor between the two read its list after that writer had
-- ended, and so has both changes.
DROP TABLE "till_change";

-- CreateTable
CREATE TABLE "till_change" (
    "item_id" UUID NOT NULL,
    "source" TEXT NOT NULL,
    "sale_id" UUID NOT NULL,
    "xid" BIGINT NOT NULL,

    CONSTRAINT "till_change_pkey" PRIMARY KEY ("item_id", "source")
);

-- CreateIndex
CREATE INDEX "till_change_sale_id_xid_idx" ON "till_change"("sale_id", "xid");

ALTER TABLE till_change ADD CONSTRAINT till_change_source CHECK (source IN ('item', 'item_count'));

-- Tills that were away hear of every piece once: which changes they had not asked for is not known.
INSERT INTO till_change (item_id, source, sale_id, xid)
  SELECT id, 'item', sale_id, pg_current_xact_id()::text::bigint FROM item;

CREATE OR REPLACE FUNCTION note_till_change() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE item_now uuid;
BEGIN
  IF TG_TABLE_NAME = 'item' THEN item_now := NEW.id; ELSE item_now := NEW.item_id; END IF;
  UPDATE till_change SET xid = pg_current_xact_id()::text::bigint WHERE item_id = item_now AND source = TG_TABLE_NAME;
  IF NOT FOUND THEN
    INSERT INTO till_change (item_id, source, sale_id, xid)
      SELECT id, TG_TABLE_NAME, sale_id, pg_current_xact_id()::text::bigint FROM item WHERE id = item_now;
  END IF;
  RETURN NULL;
END $$;
