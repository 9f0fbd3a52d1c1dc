/** What the treasurer reads about a receipt that does not fit, by the kind it is kept under. */
export const discrepancyWords: Record<string, string> = {
  "receipt-differs": "One receipt came twice with different contents. The first was kept.",
  "sold-twice": "A piece counts as sold twice. The second sale waits in suspense.",
  "not-on-floor": "A piece was sold that is not on the floor. Its money waits in suspense.",
  "unknown-tag": "A tag number was sold that no piece of this sale has.",
  "unknown-goods": "Something of the guild's own was sold that is not on its list.",
  "price-differs": "Another price was taken than the list's, without a reason.",
  "figures-differ": "The till came to other figures than we do. What was taken is recorded.",
  "figures-broken": "A till's figures do not add up. What was paid waits in suspense.",
  "not-as-sent": "The books cannot hold a receipt as it was sent. What was paid waits in suspense.",
  "after-cash-up":
    "A receipt or cash came after its drawer was cashed up. It counts in the next cash-up.",
  "clock-off":
    "A till's clock was wrong by more than two minutes, and with it the times on its receipts. The order of their numbers is right.",
  "clock-figures":
    "A till with a wrong clock sold by another day's tax or markdown than ours. What was taken is recorded.",
  "number-twice": "A till gave one receipt number twice. The second has the next number here.",
  "cashier-unknown": "The till named a cashier who may not sell.",
  "returned-twice": "Pieces came back that had come back before. The money waits in suspense.",
  "awaits-sale": "Pieces came back before their sale had arrived.",
  "mail-without-receipt": "A receipt was to go out by e-mail that we do not have.",
  "drawer-below-zero": "More cash left a drawer than the books say it held.",
};

export const wordsOf = (kind: string): string => discrepancyWords[kind] ?? kind;
