import { amountText } from "../currency.ts";
import { type FieldError, ok, type Result, refuse } from "../problem.ts";
import { bankText, isBankReference } from "./bank-text.ts";
import { ibanFaultWords, isBic, readIban } from "./iban.ts";
import { orderTotal, type Transfer, type TransferOrder } from "./transfer-order.ts";

const namespace = "urn:iso:std:iso:20022:tech:xsd:pain.001.001.09";
/** The most that one transfer in euros may be, in cents (European Payments Council, EPC132-08). */
const mostInEuros = 99_999_999_999;
const longestName = 70;
const longestMessage = 140;

/**
 * A transfer order as the text of an ISO 20022 message, pain.001.001.09, which a bank's web page
 * takes as a file. Euros go by the rules of SEPA (EPC132-08); other currencies leave out what only
 * SEPA asks for. Names and messages are put into the characters that every bank takes and cut to
 * the length allowed. Refuses, with one error per field ("transfers.3.account"), account numbers
 * and bank codes that cannot be right and names that no bank could read. Throws for what no person
 * typed: no transfers, an amount that is not above zero, a reference that is not a bank's or
 * comes twice.
 */
export function transferMessage(order: TransferOrder): Result<string> {
  assertSound(order);
  const errors = [
    ...partyErrors(order.payer, "payer"),
    ...order.transfers.flatMap((transfer, at) => partyErrors(transfer, `transfers.${at}`)),
  ];
  const first = errors[0];
  if (first) return refuse("invalid-input", first.message, errors);
  return ok(
    `<?xml version="1.0" encoding="UTF-8"?>\n${element(
      `Document xmlns="${namespace}"`,
      element("CstmrCdtTrfInitn", heading(order), orderBlock(order)),
    )}\n`,
  );
}

/** Holds only texts of bank characters, which need no escaping: none of them is markup. */
function element(tag: string, ...content: string[]): string {
  return `<${tag}>${content.join("")}</${tag.split(" ")[0]}>`;
}

const counted = (order: TransferOrder): string[] => [
  element("NbOfTxs", String(order.transfers.length)),
  element("CtrlSum", amountText(orderTotal(order), order.currency)),
];

const heading = (order: TransferOrder): string =>
  element(
    "GrpHdr",
    element("MsgId", order.reference),
    element("CreDtTm", order.createdAt),
    ...counted(order),
    element("InitgPty", named(order.payer.name)),
  );

function orderBlock(order: TransferOrder): string {
  const isSepa = order.currency === "EUR";
  return element(
    "PmtInf",
    element("PmtInfId", order.reference),
    element("PmtMtd", "TRF"),
    ...counted(order),
    isSepa ? element("PmtTpInf", element("SvcLvl", element("Cd", "SEPA"))) : "",
    element("ReqdExctnDt", element("Dt", order.day)),
    element("Dbtr", named(order.payer.name)),
    element("DbtrAcct", accountId(order.payer.account)),
    element("DbtrAgt", bankId(order.payer.bank)),
    isSepa ? element("ChrgBr", "SLEV") : "",
    ...order.transfers.map((transfer) => transferBlock(transfer, order.currency)),
  );
}

function transferBlock(transfer: Transfer, currency: string): string {
  const message = bankText(transfer.message, longestMessage);
  return element(
    "CdtTrfTxInf",
    element("PmtId", element("EndToEndId", transfer.reference)),
    element("Amt", element(`InstdAmt Ccy="${currency}"`, amountText(transfer.amount, currency))),
    // A receiving bank without a code must be left out whole, not given as unknown.
    transfer.bank === null ? "" : element("CdtrAgt", bankId(transfer.bank)),
    element("Cdtr", named(transfer.name)),
    element("CdtrAcct", accountId(transfer.account)),
    message === "" ? "" : element("RmtInf", element("Ustrd", message)),
  );
}

const named = (name: string): string => element("Nm", bankText(name, longestName));

function accountId(account: string): string {
  const read = readIban(account);
  if ("fault" in read) throw new RangeError("An account number was not checked before");
  return element("Id", element("IBAN", read.iban));
}

/** The guild's own bank must stand there; without a code in the words that the rules give. */
const bankId = (bank: string | null): string =>
  element(
    "FinInstnId",
    bank === null ? element("Othr", element("Id", "NOTPROVIDED")) : element("BICFI", bank),
  );

function partyErrors(
  party: { name: string; account: string; bank: string | null },
  path: string,
): FieldError[] {
  const errors: FieldError[] = [];
  if (bankText(party.name, longestName) === "")
    errors.push({
      field: `${path}.name`,
      message: "A bank cannot read this name. Type it in letters from A to Z.",
    });
  const read = readIban(party.account);
  if ("fault" in read)
    errors.push({ field: `${path}.account`, message: ibanFaultWords[read.fault] });
  if (party.bank !== null && !isBic(party.bank))
    errors.push({
      field: `${path}.bank`,
      message: "A bank code (BIC) has 8 or 11 capital letters and digits. It may be left out.",
    });
  return errors;
}

function assertSound({ reference, createdAt, day, currency, transfers }: TransferOrder): void {
  const references = transfers.map((transfer) => transfer.reference);
  if (transfers.length === 0) throw new RangeError("An order without a transfer");
  for (const one of [reference, ...references])
    if (!isBankReference(one)) throw new RangeError(`Not a reference for a bank: ${one}`);
  if (new Set(references).size !== references.length)
    throw new RangeError("Two transfers with one reference");
  for (const { amount } of transfers)
    if (amount <= 0 || (currency === "EUR" && amount > mostInEuros))
      throw new RangeError(`Not an amount to transfer: ${amount}`);
  if (!/^\d{4}-\d{2}-\d{2}$/.test(day)) throw new RangeError(`Not a day: ${day}`);
  if (!/^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(?:\.\d{3})?Z$/.test(createdAt))
    throw new RangeError(`Not a moment: ${createdAt}`);
}
