export interface ReceiptLine {
  tag: string;
  description: string;
  quantity: string;
  unitPrice: string;
  /** At the tag's price; discounts stand in the sums. */
  amount: string;
  /** Such as why another price was taken. */
  note?: string;
}

/** A figure with its name: what leads to the total, or what is in it. */
export interface ReceiptSum {
  label: string;
  amount: string;
}

export interface ReceiptTender {
  label: string;
  amount: string;
  reference?: string;
}

/** One receipt with every figure ready to print. */
export interface ReceiptData {
  guildName: string;
  guildLines: string[];
  saleName: string;
  receiptNumber: string;
  /** Day and time as the guild writes them. */
  at: string;
  cashier?: string;
  till: string;
  kind: "sale" | "return" | "void";
  lines: ReceiptLine[];
  /** What leads to the total: discount, the price before tax, each tax that is added. */
  sums: ReceiptSum[];
  total: string;
  /** Taxes that the prices hold already. */
  inside: ReceiptSum[];
  /** The number of the certificate of a buyer who owes no tax. */
  exemption?: string;
  tenders: ReceiptTender[];
  cashGiven?: string;
  change?: string;
  /** What rounding to the coins in use changed. */
  rounding?: string;
  /** Printed once before: the paper says so. */
  copy: boolean;
  footer: string;
}
