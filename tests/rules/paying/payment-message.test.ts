import { describe, expect, test } from "vitest";
import { transferMessage } from "../../../src/rules/paying/transfer-message.ts";
import type { TransferOrder } from "../../../src/rules/paying/transfer-order.ts";
import { faultsOf } from "../../support/payment-message.ts";
import { order, transfer } from "./transfer-support.ts";
import { readXml } from "./xml-reader.ts";

/** Our files against the structure of pain.001.001.09 that tests/support/payment-message.ts holds. */
const written = (given: TransferOrder): string => {
  const result = transferMessage(given);
  if (!result.ok) throw new Error(result.problem.detail);
  return result.value;
};

describe("a message as we write it", () => {
  test.each([
    ["in euros", order()],
    [
      "in pounds, without a bank's code",
      order({ currency: "GBP", payer: { ...order().payer, bank: null } }),
    ],
    ["in dinars with three decimals", order({ currency: "KWD" })],
    ["in yen without decimals", order({ currency: "JPY" })],
    [
      "with a name longer than a bank takes",
      order({ transfers: [transfer({ name: "Weaver ".repeat(40) })] }),
    ],
    [
      "of three hundred",
      order({
        transfers: Array.from({ length: 300 }, (_, at) =>
          transfer({ reference: `RUN1-ST${at}`, amount: at + 1 }),
        ),
      }),
    ],
  ])("%s keeps to the standard", (_name, given) => {
    expect(faultsOf(readXml(written(given)))).toEqual([]);
  });
});

describe("a message that was tampered with", () => {
  const good = written(order());
  const swap = (one: string, other: string) => (text: string) => {
    const element = (name: string) =>
      new RegExp(`<${name}>.*?</${name}>`, "s").exec(text)?.[0] ?? "";
    const [first, second] = [element(one), element(other)];
    return text.replace(first, "\u0001").replace(second, first).replace("\u0001", second);
  };
  const change = (from: RegExp | string, to: string) => (text: string) => text.replace(from, to);

  test.each([
    ["creditor and its account swapped", swap("Cdtr", "CdtrAcct")],
    ["message name and moment swapped", swap("MsgId", "CreDtTm")],
    ["payer and execution day swapped", swap("Dbtr", "ReqdExctnDt")],
    ["amount before the payment's name", swap("PmtId", "Amt")],
    ["no CtrlSum in the heading", change(/<CtrlSum>[^<]*<\/CtrlSum>/, "")],
    [
      "no CtrlSum in the block",
      change(/(<PmtMtd>TRF<\/PmtMtd><NbOfTxs>2<\/NbOfTxs>)<CtrlSum>[^<]*<\/CtrlSum>/, "$1"),
    ],
    ["a MsgId of 36 signs", change(/<MsgId>[^<]*/, `<MsgId>${"A".repeat(36)}`)],
    ["an empty MsgId", change(/<MsgId>[^<]*/, "<MsgId>")],
    ["a EndToEndId of 36 signs", change(/<EndToEndId>[^<]*/, `<EndToEndId>${"A".repeat(36)}`)],
    ["one EndToEndId twice", change("<EndToEndId>P1-0101", "<EndToEndId>P1-0045")],
    ["a sum a cent off", change("211.48", "211.49")],
    ["one amount a cent off", change(">194.00<", ">194.01<")],
    ["a count one off", change("<NbOfTxs>2", "<NbOfTxs>3")],
    ["six decimals", change(">194.00<", ">194.000000<")],
    ["an amount without its currency", change(' Ccy="EUR"', "")],
    ["a currency in small letters", change('Ccy="EUR"', 'Ccy="eur"')],
    ["a cheque as the method", change("<PmtMtd>TRF", "<PmtMtd>CHK")],
    ["a day without its element", change(/<Dt>([^<]*)<\/Dt>/, "$1")],
    ["the day of version 03", change(/<ReqdExctnDt><Dt>([^<]*)<\/Dt>/, "<ReqdExctnDt>$1")],
    ["the bank's code of version 03", change(/BICFI>/g, "BIC>")],
    ["an account without a country", change(/<IBAN>FR/, "<IBAN>12")],
    ["a message of 141 signs", change(/<Ustrd>[^<]*/, `<Ustrd>${"a".repeat(141)}`)],
    ["two creditors", change(/(<Cdtr>.*?<\/Cdtr>)/, "$1$1")],
    ["no transfer at all", change(/<CdtTrfTxInf>.*<\/CdtTrfTxInf>/, "")],
    ["an element of no standard", change("<PmtMtd>", "<Extra>1</Extra><PmtMtd>")],
    ["the namespace of version 03", change("001.001.09", "001.001.03")],
  ])("with %s is refused", (_name, tamper) => {
    const bad = tamper(good);
    expect(bad).not.toBe(good);
    expect(faultsOf(readXml(bad))).not.toEqual([]);
  });
});
