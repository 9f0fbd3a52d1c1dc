/** A sold line as the member reads it; amounts and dates are ready to print. */
export interface StatementLine {
  soldOn: string;
  tag: string;
  description: string;
  quantity: string;
  amount: string;
  rate: string;
  guildShare: string;
  /** Empty on statements whose lines bear no fee for cards. */
  cardFee: string;
  net: string;
}

export interface UnsoldLine {
  tag: string;
  description: string;
  quantity: string;
  price: string;
}

/** A large figure at the top. */
export interface Figure {
  label: string;
  amount: string;
}

/** A step from what sold to what is paid. */
export interface AccountLine {
  words: string;
  amount: string;
}

/** One member's settlement of one sale. */
export interface StatementData {
  guildName: string;
  /** Address and other lines under the guild's name. */
  guildLines: string[];
  saleName: string;
  saleDates: string;
  statementNumber: string;
  issuedOn: string;
  memberNumber: string;
  memberName: string;
  figures: Figure[];
  /** How it was or will be paid, or why it is not. */
  payment: string;
  lines: StatementLine[];
  totals: { gross: string; guildShare: string; cardFee: string; net: string };
  /** Why the percentages are what they are. */
  grounds: string[];
  /** Empty where the totals of the lines say it all; the last row is what the others come to. */
  account: AccountLine[];
  /** Empty where it was not kept. */
  yearToDate: string;
  /** What is to be done about it; may be empty. */
  unsoldNote: string;
  unsold: UnsoldLine[];
  /** What the figures mean, one paragraph each. */
  notes: string[];
  /** Set closer where that saves a second page. */
  closes: boolean;
}
