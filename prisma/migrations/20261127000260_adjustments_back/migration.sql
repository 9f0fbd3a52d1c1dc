-- An adjustment is taken back by its opposite, which names it; once at most.

ALTER TABLE "adjustment" ADD COLUMN "takes_back_id" UUID;

CREATE UNIQUE INDEX "adjustment_takes_back_id_key" ON "adjustment"("takes_back_id");

ALTER TABLE "adjustment" ADD CONSTRAINT "adjustment_takes_back_id_fkey" FOREIGN KEY ("takes_back_id") REFERENCES "adjustment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

ALTER TABLE adjustment ADD CONSTRAINT adjustment_takes_back CHECK (takes_back_id <> id);
