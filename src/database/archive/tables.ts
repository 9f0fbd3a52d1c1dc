/** A table whose rows an archive keeps. */
export interface ArchivedTable {
  name: string;
  /** The columns that give its rows their order in the file, and so the order of writing them again. */
  order: readonly string[];
  /** Columns that stay at home, with the reason. */
  without?: Readonly<Record<string, string>>;
  /**
   * "derived": its rows follow from others by trigger. They are kept for comparing, and not
   * written again. "own": writing them needs more than an insert; see restore-rows.ts.
   */
  written?: "derived" | "own";
}

const table = (name: string, order = "id", more: Partial<ArchivedTable> = {}): ArchivedTable => ({
  ...{ name, order: order.split(" ") },
  ...more,
});

/**
 * Every table of an archive, each after those that it points to. A new table is one line here or
 * in `leftOut`; tests/database/archive-tables.test.ts fails until it is.
 */
export const archived: readonly ArchivedTable[] = [
  table("guild"),
  table("kind"),
  table("member", "id", {
    without: {
      passphrase_hash: "a secret; members get a new link",
      pin_hash: "a secret; cashiers choose a new number",
    },
  }),
  // Whoever turned a letter off is not written to by the other service either.
  table("letter_choice", "member_id kind"),
  table("label_stock"),
  table("printer"),
  table("sale"),
  table("kind_limit", "sale_id kind_id"),
  table("agreement", "sale_id version"),
  table("acceptance", "sale_id version member_id"),
  table("stage_change"),
  table("sale_policy", "sale_id version"),
  table("sale_seller", "sale_id member_id"),
  table("shift"),
  table("check_in_time"),
  table("check_in_choice", "sale_id member_id"),
  table("adjustment"),
  table("item"),
  table("guild_good"),
  table("till"),
  // Opened by triggers on members, tills and taxes; the rest and the names are written.
  table("account", "key", { written: "own" }),
  table("till_session"),
  table("cash_move"),
  table("cash_up", "till_session_id"),
  table("looked_into", "till_session_id"),
  // A till's numbers come one after the other.
  table("receipt", "till_id number"),
  table("receipt_line", "receipt_id position"),
  table("receipt_tax", "receipt_id code"),
  table("receipt_tender"),
  table("identified", "line_id"),
  table("movement"),
  table("item_count", "item_id", { written: "derived" }),
  table("check_in"),
  table("discrepancy"),
  table("journal_entry", "number"),
  table("posting"),
  table("settlement_proposal"),
  table("settlement"),
  table("statement", "number"),
  table("statement_line", "statement_id position receipt_line_id"),
  table("statement_item", "statement_id position"),
  table("statement_unsold", "statement_id position"),
  // A second payout needs the void of the first, and that needs the first: they go in turns.
  table("payout", "statement_id attempt", { written: "own" }),
  table("payout_void", "payout_id", { written: "own" }),
  table("deposit"),
  table("deposit_void", "deposit_id"),
  table("card_total"),
  table("card_total_void", "card_total_id"),
  table("reminder", "statement_id number"),
  table("print_job"),
  table("tag_print"),
  table("audit"),
];

/** Tables that no archive holds, with the reason. */
export const leftOut: Readonly<Record<string, string>> = {
  one_use_link: "links are secrets, and end with the service that gave them",
  session: "who is signed in there is not signed in here",
  sign_in_throttle: "counts failed tries at one service",
  till_device: "a device is a till of one service; its token is a secret",
  till_code: "codes are secrets",
  till_change: "tells tills what is new to them; a trigger writes it afresh",
  receipt_mail: "holds buyers' addresses",
  statement_mail: "a message that waits at one service would be sent again by the other",
  member_mail: "a letter that waits at one service would be sent again by the other",
  member_bank: "where members' money goes; they type it again",
  paying_setting: "the guild's own bank account",
  paying_run: "lists with bank accounts; what was paid stands in payout",
  paying_run_item: "bank accounts; what was paid stands in payout",
  warp_sheet: "a member's own notes; they take them along as a file of their own",
  member_wage: "what a member would like to earn is nobody else's business",
  item_making: "a member's own hours and costs, which no book of the guild needs",
  item_photo: "pictures for the member and the desk, which no book of the guild needs",
  item_photo_file: "pictures are large; a backup of the database holds them",
  entry_draft: "what a member has typed and not entered yet",
  item_list: "which entries came together serves only to take them back while they are entries",
  item_list_piece: "as item_list",
  item_again: "which piece a member brings again; a help for choosing, and no book needs it",
  usual_piece: "a member's own patterns for entering",
  elsewhere_sale: "what a member sold elsewhere is no business of the guild's",
  keyed_deed: "keys of requests that no client sends to another service",
};
