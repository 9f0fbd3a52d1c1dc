-- Photos of a piece, and entries that somebody has typed and not entered yet. Pictures are kept in
-- the database itself, so that its backup holds everything; only what we made of them is kept.

CREATE TABLE "item_photo" (
    "id" UUID NOT NULL,
    "item_id" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "alt" TEXT NOT NULL DEFAULT '',
    "source_sha256" TEXT NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "added_by_id" UUID NOT NULL,
    "added_at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "removed_at" TIMESTAMPTZ(3),

    CONSTRAINT "item_photo_pkey" PRIMARY KEY ("id")
);

CREATE TABLE "item_photo_file" (
    "photo_id" UUID NOT NULL,
    "size" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "width" INTEGER NOT NULL,
    "height" INTEGER NOT NULL,
    "bytes" BYTEA NOT NULL,

    CONSTRAINT "item_photo_file_pkey" PRIMARY KEY ("photo_id","size")
);

CREATE TABLE "entry_draft" (
    "id" UUID NOT NULL,
    "member_id" UUID NOT NULL,
    "sale_id" UUID NOT NULL,
    "form" TEXT NOT NULL,
    "fields" JSONB NOT NULL,
    "version" INTEGER NOT NULL DEFAULT 1,
    "typed_at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "entry_draft_pkey" PRIMARY KEY ("id")
);

CREATE INDEX "item_photo_item_id_idx" ON "item_photo"("item_id");
CREATE INDEX "entry_draft_member_id_typed_at_idx" ON "entry_draft"("member_id", "typed_at");

ALTER TABLE "item_photo" ADD CONSTRAINT "item_photo_item_id_fkey" FOREIGN KEY ("item_id") REFERENCES "item"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "item_photo_file" ADD CONSTRAINT "item_photo_file_photo_id_fkey" FOREIGN KEY ("photo_id") REFERENCES "item_photo"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "entry_draft" ADD CONSTRAINT "entry_draft_member_id_fkey" FOREIGN KEY ("member_id") REFERENCES "member"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "entry_draft" ADD CONSTRAINT "entry_draft_sale_id_fkey" FOREIGN KEY ("sale_id") REFERENCES "sale"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Four places, and one photo in each: whatever two uploads do at once, a fifth finds no place.
-- Checked at the end of a statement, so that photos can change places in one.
ALTER TABLE "item_photo" ADD CONSTRAINT photo_place CHECK (position BETWEEN 1 AND 4);
ALTER TABLE "item_photo" ADD CONSTRAINT photo_one_in_place EXCLUDE USING btree (item_id WITH =, position WITH =)
  WHERE (removed_at IS NULL) DEFERRABLE INITIALLY IMMEDIATE;
CREATE UNIQUE INDEX item_photo_once ON item_photo (item_id, source_sha256) WHERE removed_at IS NULL;
ALTER TABLE "item_photo" ADD CONSTRAINT photo_source CHECK (source_sha256 ~ '^[0-9a-f]{64}$');
ALTER TABLE "item_photo_file" ADD CONSTRAINT photo_size CHECK (size IN ('large', 'small'));
-- The fingerprint is also what a browser keeps its copy by, so it must be that of the bytes.
ALTER TABLE "item_photo_file" ADD CONSTRAINT photo_fingerprint CHECK (sha256 = encode(sha256(bytes), 'hex'));
ALTER TABLE "item_photo_file" ADD CONSTRAINT photo_measures CHECK (width > 0 AND height > 0);
-- A JPEG is packed already: trying to pack it again only costs time.
ALTER TABLE "item_photo_file" ALTER COLUMN "bytes" SET STORAGE EXTERNAL;

ALTER TABLE "entry_draft" ADD CONSTRAINT draft_form CHECK (form IN ('one', 'many'));
