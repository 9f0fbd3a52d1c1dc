export interface ReceiptLine {
  tag: string;
  description: string;
  quantity: string;
  unitPrice: string;
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
  subtotal: string;
  taxLabel: string;
  tax: string;
  total: string;
  tenders: ReceiptTender[];
  cashGiven?: string;
  change?: string;
  footer: string;
}
