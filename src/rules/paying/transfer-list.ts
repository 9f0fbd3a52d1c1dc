import { csvText } from "../csv.ts";
import { amountText } from "../currency.ts";
import type { TransferOrder } from "./transfer-order.ts";

const columns = ["Day", "Name", "Account", "Bank", "Amount", "Currency", "Message", "Reference"];

/**
 * A transfer order as CSV for banks that take no message, and for typing by hand: one row per
 * transfer, with a head, in the order given. Accounts stand as the treasurer entered them, since
 * not every country has international account numbers. No row for the total, which a bank would
 * pay; `orderTotal` gives it beside the list.
 */
export const transferList = (order: TransferOrder): string =>
  csvText([
    columns,
    ...order.transfers.map((transfer) => [
      order.day,
      transfer.name,
      transfer.account,
      transfer.bank,
      { figure: amountText(transfer.amount, order.currency) },
      order.currency,
      transfer.message,
      transfer.reference,
    ]),
  ]);
