/** A sold line as the member reads it; amounts and dates are ready to print. */
export interface StatementLine {
  soldOn: string;
  tag: string;
  description: string;
  quantity: string;
  amount: string;
  rate: string;
  guildShare: string;
  net: string;
}

export interface UnsoldLine {
  tag: string;
  description: string;
  quantity: string;
  price: string;
}

export interface Payout {
  paidOn: string;
  method: string;
  reference: string;
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
  lines: StatementLine[];
  totals: { gross: string; guildShare: string; net: string };
  payout?: Payout;
  unsold: UnsoldLine[];
  /** What the figures mean, one paragraph each. */
  notes: string[];
}
