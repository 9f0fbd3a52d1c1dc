-- The two ledgers. Refusals raised here carry SQLSTATE TB001 (nobody may do this) or TB002 (the
-- state forbids it, with a short key as the message that src/database/refusals.ts turns into words).

-- Recorded rows stay as they are: corrections are new rows.
CREATE FUNCTION keep_as_recorded() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% rows are never changed or deleted', TG_TABLE_NAME USING ERRCODE = 'TB001';
END $$;

DO $$
DECLARE name text;
BEGIN
  FOREACH name IN ARRAY ARRAY[
    'agreement', 'acceptance', 'stage_change', 'movement', 'check_in', 'cash_up', 'receipt',
    'receipt_line', 'receipt_tender', 'discrepancy', 'journal_entry', 'posting', 'settlement',
    'statement', 'statement_line', 'statement_unsold', 'payout', 'payout_void', 'keyed_deed', 'audit'
  ] LOOP
    EXECUTE format('CREATE TRIGGER keep_rows BEFORE UPDATE OR DELETE ON %I FOR EACH ROW EXECUTE FUNCTION keep_as_recorded()', name);
    EXECUTE format('CREATE TRIGGER keep_table BEFORE TRUNCATE ON %I FOR EACH STATEMENT EXECUTE FUNCTION keep_as_recorded()', name);
  END LOOP;
END $$;

-- Things: the counts follow the movements and nothing else.
CREATE FUNCTION move_pieces() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE item_count SET
    entered = entered + CASE WHEN NEW.from_place = 'outside' THEN NEW.quantity WHEN NEW.to_place = 'outside' THEN -NEW.quantity ELSE 0 END,
    with_member = with_member + CASE 'member' WHEN NEW.to_place THEN NEW.quantity WHEN NEW.from_place THEN -NEW.quantity ELSE 0 END,
    on_floor = on_floor + CASE 'floor' WHEN NEW.to_place THEN NEW.quantity WHEN NEW.from_place THEN -NEW.quantity ELSE 0 END,
    with_buyer = with_buyer + CASE 'buyer' WHEN NEW.to_place THEN NEW.quantity WHEN NEW.from_place THEN -NEW.quantity ELSE 0 END,
    with_guild = with_guild + CASE 'guild' WHEN NEW.to_place THEN NEW.quantity WHEN NEW.from_place THEN -NEW.quantity ELSE 0 END,
    lost = lost + CASE 'lost' WHEN NEW.to_place THEN NEW.quantity WHEN NEW.from_place THEN -NEW.quantity ELSE 0 END
  WHERE item_id = NEW.item_id;
  RETURN NULL;
END $$;
CREATE TRIGGER move_pieces AFTER INSERT ON movement FOR EACH ROW EXECUTE FUNCTION move_pieces();

CREATE FUNCTION start_count() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO item_count (item_id) VALUES (NEW.id);
  RETURN NULL;
END $$;
CREATE TRIGGER start_count AFTER INSERT ON item FOR EACH ROW EXECUTE FUNCTION start_count();

-- The counts are written from inside move_pieces and start_count only.
CREATE FUNCTION counts_follow_movements() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF pg_trigger_depth() < 2 THEN
    RAISE EXCEPTION 'item_count follows movement' USING ERRCODE = 'TB001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER counts_follow_movements BEFORE INSERT OR UPDATE OR DELETE ON item_count
  FOR EACH ROW EXECUTE FUNCTION counts_follow_movements();

-- What an item says it holds and what was moved in agree at the end of every transaction.
CREATE FUNCTION item_agrees_with_count() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE held integer; counted integer;
BEGIN
  SELECT i.quantity, c.entered INTO held, counted FROM item i JOIN item_count c ON c.item_id = i.id WHERE i.id = NEW.id;
  IF held IS DISTINCT FROM counted THEN
    RAISE EXCEPTION 'item % says % pieces, its movements say %', NEW.id, held, counted USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER item_agrees_with_count AFTER INSERT OR UPDATE OF quantity ON item
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION item_agrees_with_count();

-- Once a piece has come to the desk, what its tag says is settled.
CREATE FUNCTION item_settled_at_check_in() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF (NEW.tag, NEW.sale_id, NEW.member_id, NEW.number) IS DISTINCT FROM (OLD.tag, OLD.sale_id, OLD.member_id, OLD.number) THEN
    RAISE EXCEPTION 'a tag number is given once' USING ERRCODE = 'TB001';
  END IF;
  IF (NEW.price, NEW.quantity, NEW.donated, NEW.pieces_in_set) IS DISTINCT FROM (OLD.price, OLD.quantity, OLD.donated, OLD.pieces_in_set)
     AND EXISTS (SELECT 1 FROM movement WHERE item_id = NEW.id AND kind = 'checked-in') THEN
    RAISE EXCEPTION 'checked-in' USING ERRCODE = 'TB002';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER item_settled_at_check_in BEFORE UPDATE ON item FOR EACH ROW EXECUTE FUNCTION item_settled_at_check_in();

-- Money: the postings of an entry arrive together and sum to zero. A later posting to an old
-- entry would change what was recorded, so the whole entry must be in the one statement.
CREATE FUNCTION postings_balance() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE bad uuid;
BEGIN
  SELECT f.entry_id INTO bad FROM fresh f GROUP BY f.entry_id HAVING sum(f.amount) <> 0 LIMIT 1;
  IF bad IS NOT NULL THEN
    RAISE EXCEPTION 'the postings of entry % do not sum to zero', bad USING ERRCODE = 'TB001';
  END IF;
  SELECT g.entry_id INTO bad FROM (SELECT entry_id, count(*) AS pieces FROM fresh GROUP BY entry_id) g
    WHERE (SELECT count(*) FROM posting p WHERE p.entry_id = g.entry_id) <> g.pieces LIMIT 1;
  IF bad IS NOT NULL THEN
    RAISE EXCEPTION 'entry % has been recorded already', bad USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;
CREATE TRIGGER postings_balance AFTER INSERT ON posting REFERENCING NEW TABLE AS fresh
  FOR EACH STATEMENT EXECUTE FUNCTION postings_balance();

CREATE FUNCTION entry_has_postings() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NOT EXISTS (SELECT 1 FROM posting WHERE entry_id = NEW.id) THEN
    RAISE EXCEPTION 'entry % has no postings', NEW.id USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER entry_has_postings AFTER INSERT ON journal_entry
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION entry_has_postings();

-- Receipts: the next number of the till, lines and tenders that add up, and an entry in the books.
CREATE FUNCTION receipt_takes_next_number() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF NEW.number <> coalesce((SELECT max(number) FROM receipt WHERE till_id = NEW.till_id), 0) + 1 THEN
    RAISE EXCEPTION 'receipt % of till % would leave a gap', NEW.number, NEW.till_id USING ERRCODE = 'TB001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER receipt_takes_next_number BEFORE INSERT ON receipt FOR EACH ROW EXECUTE FUNCTION receipt_takes_next_number();

CREATE FUNCTION receipt_adds_up() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE amounts bigint; taxes bigint; tendered bigint;
BEGIN
  SELECT sum(amount), sum(tax) INTO amounts, taxes FROM receipt_line WHERE receipt_id = NEW.id;
  SELECT sum(amount) INTO tendered FROM receipt_tender WHERE receipt_id = NEW.id;
  IF (amounts, taxes, tendered) IS DISTINCT FROM (NEW.subtotal, NEW.tax, NEW.total) THEN
    RAISE EXCEPTION 'receipt % does not add up', NEW.id USING ERRCODE = 'TB001';
  END IF;
  IF NOT EXISTS (SELECT 1 FROM journal_entry WHERE kind = 'receipt' AND subject_id = NEW.id) THEN
    RAISE EXCEPTION 'receipt % is not in the books', NEW.id USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER receipt_adds_up AFTER INSERT ON receipt
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION receipt_adds_up();

-- Every line moves its pieces, so that goods and money cannot part.
CREATE FUNCTION receipt_line_moves() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF coalesce((SELECT sum(CASE kind WHEN 'sold' THEN quantity ELSE -quantity END) FROM movement WHERE receipt_line_id = NEW.id), 0) <> NEW.quantity THEN
    RAISE EXCEPTION 'receipt line % moved other pieces than it names', NEW.id USING ERRCODE = 'TB001';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER receipt_line_moves AFTER INSERT ON receipt_line
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION receipt_line_moves();

-- A line can be given back once in all, however many returns that takes.
CREATE FUNCTION return_within_sold() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE original receipt_line; back bigint; tax_back bigint;
BEGIN
  IF NEW.reverses_line_id IS NULL THEN RETURN NEW; END IF;
  SELECT * INTO original FROM receipt_line WHERE id = NEW.reverses_line_id FOR UPDATE;
  SELECT coalesce(sum(quantity), 0), coalesce(sum(tax), 0) INTO back, tax_back
    FROM receipt_line WHERE reverses_line_id = NEW.reverses_line_id;
  IF original.quantity < 0 OR original.item_id <> NEW.item_id OR original.unit_price <> NEW.unit_price THEN
    RAISE EXCEPTION 'line % cannot be reversed so', original.id USING ERRCODE = 'TB001';
  END IF;
  IF original.quantity + back + NEW.quantity < 0 OR original.tax + tax_back + NEW.tax < 0 THEN
    RAISE EXCEPTION 'returned-already' USING ERRCODE = 'TB002';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER return_within_sold BEFORE INSERT ON receipt_line FOR EACH ROW EXECUTE FUNCTION return_within_sold();

-- A statement is paid once; after a void it can be paid again.
CREATE FUNCTION payout_once() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE owed bigint;
BEGIN
  SELECT net INTO owed FROM statement WHERE id = NEW.statement_id FOR UPDATE;
  IF EXISTS (SELECT 1 FROM payout p LEFT JOIN payout_void v ON v.payout_id = p.id
             WHERE p.statement_id = NEW.statement_id AND v.payout_id IS NULL) THEN
    RAISE EXCEPTION 'paid-already' USING ERRCODE = 'TB002';
  END IF;
  IF owed <> NEW.amount THEN
    RAISE EXCEPTION 'payout % differs from its statement', NEW.id USING ERRCODE = 'TB001';
  END IF;
  RETURN NEW;
END $$;
CREATE TRIGGER payout_once BEFORE INSERT ON payout FOR EACH ROW EXECUTE FUNCTION payout_once();

-- The guild's own accounts; a drawer comes with its till and an account with its member.
INSERT INTO account (key, kind, name) VALUES
  ('cheques', 'asset', 'Cheques in hand'),
  ('card-clearing', 'asset', 'Card clearing'),
  ('other-tender', 'asset', 'Other tender in hand'),
  ('cash-box', 'asset', 'Cash box'),
  ('bank', 'asset', 'Bank'),
  ('sales-tax', 'liability', 'Sales tax'),
  ('suspense', 'liability', 'Suspense'),
  ('guild-share', 'income', 'Guild share'),
  ('fees', 'income', 'Fees'),
  ('guild-goods', 'income', 'Guild''s own goods'),
  ('donations', 'income', 'Donations'),
  ('cash-rounding', 'income', 'Cash rounding'),
  ('over-short', 'expense', 'Over and short'),
  ('card-fees', 'expense', 'Card fees');

CREATE FUNCTION open_drawer() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO account (key, kind, name) VALUES ('drawer/' || NEW.id, 'asset', 'Drawer ' || NEW.id);
  RETURN NULL;
END $$;
CREATE TRIGGER open_drawer AFTER INSERT ON till FOR EACH ROW EXECUTE FUNCTION open_drawer();

CREATE FUNCTION open_member_account() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO account (key, kind, name) VALUES ('member/' || NEW.id, 'liability', 'Member ' || NEW.number);
  RETURN NULL;
END $$;
CREATE TRIGGER open_member_account AFTER INSERT ON member FOR EACH ROW EXECUTE FUNCTION open_member_account();
