-- A drawer that did not come out even stands in the way of a settlement until somebody has said
-- what came of looking into it. The cash-up itself never changes.

CREATE TABLE "looked_into" (
    "till_session_id" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "by_id" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "looked_into_pkey" PRIMARY KEY ("till_session_id")
);

ALTER TABLE "looked_into" ADD CONSTRAINT "looked_into_till_session_id_fkey" FOREIGN KEY ("till_session_id") REFERENCES "cash_up"("till_session_id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "looked_into" ADD CONSTRAINT looked_into_reason CHECK (reason <> '');

CREATE TRIGGER keep_rows BEFORE UPDATE OR DELETE ON looked_into FOR EACH ROW EXECUTE FUNCTION keep_as_recorded();
CREATE TRIGGER keep_table BEFORE TRUNCATE ON looked_into FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded();
