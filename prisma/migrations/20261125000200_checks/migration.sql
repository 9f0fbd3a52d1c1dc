-- What a single row may hold. The rules in src/rules refuse the same things earlier and in plain
-- words; these lines decide when the code is wrong.
ALTER TABLE guild
  ADD CONSTRAINT guild_one_row CHECK (id = 1),
  ADD CONSTRAINT guild_currency CHECK (currency ~ '^[A-Z]{3}$'),
  ADD CONSTRAINT guild_tag_length CHECK (tag_length IN (8, 10)),
  ADD CONSTRAINT guild_paper CHECK (paper IN ('letter', 'a4'));

ALTER TABLE one_use_link
  ADD CONSTRAINT link_purpose CHECK (purpose IN ('set-up', 'invitation', 'reset')),
  ADD CONSTRAINT link_member CHECK ((purpose = 'set-up') = (member_id IS NULL));

ALTER TABLE member
  ADD CONSTRAINT member_number CHECK (number BETWEEN 100 AND 9999),
  ADD CONSTRAINT member_name CHECK (name <> ''),
  ADD CONSTRAINT member_email CHECK (email = lower(email)),
  ADD CONSTRAINT member_status CHECK (status IN ('active', 'resting')),
  ADD CONSTRAINT member_roles CHECK (roles <@ ARRAY['member', 'cashier', 'desk', 'treasurer', 'chair']);

ALTER TABLE sale
  ADD CONSTRAINT sale_days CHECK (first_day <= last_day),
  ADD CONSTRAINT sale_guild_rate CHECK (guild_rate BETWEEN 0 AND 100000),
  ADD CONSTRAINT sale_tax_rate CHECK (tax_rate BETWEEN 0 AND 100000),
  ADD CONSTRAINT sale_price CHECK (price_step >= 1 AND price_floor >= 1),
  ADD CONSTRAINT sale_item_limit CHECK (item_limit IS NULL OR item_limit >= 1),
  ADD CONSTRAINT sale_stage CHECK (stage IN ('planning', 'entries-open', 'entries-closed', 'selling', 'settling', 'closed'));

ALTER TABLE kind_limit ADD CONSTRAINT kind_limit_most CHECK (most >= 0);

ALTER TABLE item
  ADD CONSTRAINT item_number CHECK (number >= 1),
  ADD CONSTRAINT item_tag CHECK (tag ~ '^[1-9]([0-9]{7}|[0-9]{9})$'),
  ADD CONSTRAINT item_description CHECK (description <> ''),
  ADD CONSTRAINT item_price CHECK (price >= 1),
  ADD CONSTRAINT item_quantity CHECK (quantity BETWEEN 1 AND 999),
  ADD CONSTRAINT item_pieces CHECK (pieces_in_set BETWEEN 1 AND 99);

-- Every piece is in exactly one place.
ALTER TABLE item_count
  ADD CONSTRAINT count_with_member CHECK (with_member >= 0),
  ADD CONSTRAINT count_on_floor CHECK (on_floor >= 0),
  ADD CONSTRAINT count_with_buyer CHECK (with_buyer >= 0),
  ADD CONSTRAINT count_with_guild CHECK (with_guild >= 0),
  ADD CONSTRAINT count_lost CHECK (lost >= 0),
  ADD CONSTRAINT count_adds_up CHECK (entered = with_member + on_floor + with_buyer + with_guild + lost);

ALTER TABLE movement
  ADD CONSTRAINT movement_quantity CHECK (quantity >= 1),
  ADD CONSTRAINT movement_path CHECK ((kind, from_place, to_place) IN (
    ('entered', 'outside', 'member'),
    ('unentered', 'member', 'outside'),
    ('checked-in', 'member', 'floor'),
    ('sold', 'floor', 'buyer'),
    ('returned', 'buyer', 'floor'),
    ('picked-up', 'floor', 'member'),
    ('donated', 'floor', 'guild'),
    ('lost', 'floor', 'lost'),
    ('found', 'lost', 'floor'))),
  ADD CONSTRAINT movement_receipt CHECK ((kind IN ('sold', 'returned')) = (receipt_line_id IS NOT NULL));

ALTER TABLE check_in
  ADD CONSTRAINT check_in_decision CHECK (
    (decision = 'accepted' AND quantity >= 1) OR (decision = 'turned-away' AND reason <> ''));

ALTER TABLE till ADD CONSTRAINT till_number CHECK (number >= 1);
ALTER TABLE till_session ADD CONSTRAINT till_session_float CHECK (float >= 0);
CREATE UNIQUE INDEX till_session_one_open ON till_session (till_id) WHERE closed_at IS NULL;
ALTER TABLE cash_up ADD CONSTRAINT cash_up_adds_up CHECK (counted >= 0 AND difference = counted - expected);

ALTER TABLE receipt
  ADD CONSTRAINT receipt_kind CHECK (kind IN ('sale', 'return', 'void')),
  ADD CONSTRAINT receipt_number CHECK (number >= 1),
  ADD CONSTRAINT receipt_total CHECK (total = subtotal + tax),
  ADD CONSTRAINT receipt_change CHECK (change >= 0 AND cash_given >= change),
  ADD CONSTRAINT receipt_sign CHECK (
    (kind = 'sale' AND total > 0 AND reverses_id IS NULL) OR
    (kind <> 'sale' AND total < 0 AND reverses_id IS NOT NULL AND reason <> ''));
CREATE UNIQUE INDEX receipt_one_void ON receipt (reverses_id) WHERE kind = 'void';

ALTER TABLE receipt_line
  ADD CONSTRAINT receipt_line_amount CHECK (quantity <> 0 AND unit_price >= 1 AND amount = quantity * unit_price),
  ADD CONSTRAINT receipt_line_sign CHECK ((reverses_line_id IS NULL) = (quantity > 0)),
  ADD CONSTRAINT receipt_line_tax CHECK (sign(tax) IN (0, sign(quantity)));

ALTER TABLE receipt_tender
  ADD CONSTRAINT tender_kind CHECK (kind IN ('cash', 'cheque', 'card', 'other')),
  ADD CONSTRAINT tender_amount CHECK (amount <> 0);

ALTER TABLE posting ADD CONSTRAINT posting_amount CHECK (amount <> 0);

ALTER TABLE settlement ADD CONSTRAINT settlement_adds_up CHECK (gross = guild_share + net);
ALTER TABLE statement ADD CONSTRAINT statement_adds_up CHECK (gross = guild_share + net);
ALTER TABLE statement_line ADD CONSTRAINT statement_line_adds_up CHECK (amount = guild_share + net);

ALTER TABLE payout
  ADD CONSTRAINT payout_method CHECK (method IN ('cheque', 'transfer', 'cash')),
  ADD CONSTRAINT payout_amount CHECK (amount >= 1),
  ADD CONSTRAINT payout_reference CHECK (method = 'cash' OR reference <> '');
ALTER TABLE payout_void ADD CONSTRAINT payout_void_reason CHECK (reason <> '');
