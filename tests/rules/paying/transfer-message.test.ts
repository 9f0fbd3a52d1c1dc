import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { amountText } from "../../../src/rules/currency.ts";
import { transferMessage } from "../../../src/rules/paying/transfer-message.ts";
import type { TransferOrder } from "../../../src/rules/paying/transfer-order.ts";
import { order, transfer } from "./transfer-support.ts";
import { type Node, readXml } from "./xml-reader.ts";

/**
 * The elements we use, in the order of ISO 20022 pain.001.001.09 as the European Payments Council
 * restricts it (EPC132-08, 2023 version 1.0): "?" may be missing, "+" may repeat.
 */
const sequences: Record<string, string> = {
  Document: "CstmrCdtTrfInitn",
  CstmrCdtTrfInitn: "GrpHdr PmtInf+",
  GrpHdr: "MsgId CreDtTm NbOfTxs CtrlSum InitgPty",
  InitgPty: "Nm? PstlAdr? Id?",
  PmtInf:
    "PmtInfId PmtMtd BtchBookg? NbOfTxs CtrlSum PmtTpInf? ReqdExctnDt Dbtr DbtrAcct DbtrAgt " +
    "UltmtDbtr? ChrgBr? CdtTrfTxInf+",
  PmtTpInf: "InstrPrty? SvcLvl? LclInstrm? CtgyPurp?",
  SvcLvl: "Cd",
  ReqdExctnDt: "Dt",
  Dbtr: "Nm PstlAdr? Id?",
  Cdtr: "Nm PstlAdr? Id?",
  DbtrAcct: "Id Ccy? Prxy?",
  CdtrAcct: "Id Prxy?",
  Id: "IBAN",
  DbtrAgt: "FinInstnId",
  CdtrAgt: "FinInstnId",
  FinInstnId: "BICFI? Othr?",
  Othr: "Id",
  CdtTrfTxInf:
    "PmtId PmtTpInf? Amt ChrgBr? UltmtDbtr? CdtrAgt? Cdtr CdtrAcct UltmtCdtr? Purp? RmtInf?",
  PmtId: "InstrId? EndToEndId",
  Amt: "InstdAmt",
  RmtInf: "Ustrd? Strd?",
};
const max35 = /^.{1,35}$/;
const leaves: Record<string, RegExp> = {
  MsgId: max35,
  PmtInfId: max35,
  EndToEndId: max35,
  CreDtTm: /^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d{3})?Z$/,
  NbOfTxs: /^\d{1,15}$/,
  CtrlSum: /^\d{1,17}(\.\d{1,5})?$/,
  Nm: /^.{1,70}$/,
  PmtMtd: /^TRF$/,
  Cd: /^SEPA$/,
  Dt: /^\d{4}-\d\d-\d\d$/,
  ChrgBr: /^SLEV$/,
  IBAN: /^[A-Z]{2}\d{2}[a-zA-Z0-9]{1,30}$/,
  BICFI: /^[A-Z0-9]{4}[A-Z]{2}[A-Z0-9]{2}([A-Z0-9]{3})?$/,
  InstdAmt: /^\d{1,13}(\.\d{1,5})?$/,
  Ustrd: /^.{1,140}$/,
};

function check(node: Node, parent = ""): void {
  // The identification of a bank without a code is a text, that of an account an element.
  if (node.name === "Id" && parent === "Othr") {
    expect(node).toMatchObject({ text: "NOTPROVIDED", children: [] });
    return;
  }
  const leaf = leaves[node.name];
  if (leaf) {
    expect(node.children).toEqual([]);
    expect(node.text, node.name).toMatch(leaf);
    return;
  }
  const sequence = sequences[node.name];
  if (sequence === undefined) throw new Error(`${node.name} is not in the table`);
  const pattern = sequence.replace(/(\w+)([?+]?) ?/g, "(?:$1 )$2");
  const names = node.children.map(({ name }) => `${name} `).join("");
  expect(names, node.name).toMatch(new RegExp(`^${pattern}$`));
  for (const child of node.children) check(child, node.name);
}

function sent(given: TransferOrder): Node {
  const result = transferMessage(given);
  if (!result.ok) throw new Error(result.problem.detail);
  return readXml(result.value);
}

/** The texts at the end of a path, in order. */
function at(node: Node, path: string): string[] {
  const [first, ...rest] = path.split("/");
  const found = node.children.filter(({ name }) => name === first);
  return found.flatMap((child) => (rest.length === 0 ? child.text : at(child, rest.join("/"))));
}
const block = "CstmrCdtTrfInitn/PmtInf";

describe("a message to the bank", () => {
  test("has every element in its place and says what the order says", () => {
    const root = sent(order());
    check(root);
    expect(root.attributes).toEqual({ xmlns: "urn:iso:std:iso:20022:tech:xsd:pain.001.001.09" });
    for (const where of ["CstmrCdtTrfInitn/GrpHdr", block]) {
      expect(at(root, `${where}/NbOfTxs`)).toEqual(["2"]);
      expect(at(root, `${where}/CtrlSum`)).toEqual(["211.48"]);
    }
    expect(at(root, `${block}/DbtrAgt/FinInstnId/BICFI`)).toEqual(["DEUTDEFF"]);
    expect(at(root, `${block}/ReqdExctnDt/Dt`)).toEqual(["2026-12-02"]);
    expect(at(root, `${block}/CdtTrfTxInf/Amt/InstdAmt`)).toEqual(["194.00", "17.48"]);
    expect(at(root, `${block}/CdtTrfTxInf/PmtId/EndToEndId`)).toEqual(["P1-0045", "P1-0101"]);
    expect(at(root, `${block}/CdtTrfTxInf/CdtrAcct/Id/IBAN`)[0]).toBe(
      "FR1420041010050500013M02606",
    );
    expect(at(root, `${block}/CdtTrfTxInf/CdtrAgt/FinInstnId/BICFI`)).toEqual(["ABNANL2A"]);
    // EPC132-08: only a code is allowed here, or the element is not used.
    expect(at(root, `${block}/CdtTrfTxInf/CdtrAgt/FinInstnId/Othr/Id`)).toEqual([]);
    expect(at(root, `${block}/CdtTrfTxInf/Cdtr/Nm`)[0]).toBe("Zoe Weaver");
  });

  test("says that the guild's bank has no code, and leaves an empty message out", () => {
    const payer = { ...order().payer, bank: null };
    const root = sent(order({ payer, transfers: [transfer({ message: " " })] }));
    check(root);
    expect(at(root, `${block}/DbtrAgt/FinInstnId/Othr/Id`)).toEqual(["NOTPROVIDED"]);
    expect(at(root, `${block}/CdtTrfTxInf/RmtInf/Ustrd`)).toEqual([]);
  });

  test("cuts names and messages to what a bank takes", () => {
    const long = "abcdefg".repeat(30);
    const root = sent(order({ transfers: [transfer({ name: long, message: long })] }));
    check(root);
    expect(at(root, `${block}/CdtTrfTxInf/Cdtr/Nm`)).toEqual([long.slice(0, 70)]);
    expect(at(root, `${block}/CdtTrfTxInf/RmtInf/Ustrd`)).toEqual([long.slice(0, 140)]);
  });

  test("outside euros asks for nothing of SEPA and writes the currency's own digits", () => {
    const root = sent(order({ currency: "KWD" }));
    check(root);
    expect(at(root, `${block}/ChrgBr`)).toEqual([]);
    expect(at(root, `${block}/PmtTpInf/SvcLvl/Cd`)).toEqual([]);
    expect(at(root, `${block}/CtrlSum`)).toEqual(["21.148"]);
    expect(at(sent(order()), `${block}/PmtTpInf/SvcLvl/Cd`)).toEqual(["SEPA"]);
  });

  test("holds whatever names, messages and amounts come", () => {
    const one = fc.record({
      name: fc.string({ unit: "binary" }).map((text) => `A${text}`),
      message: fc.string({ unit: "binary", maxLength: 300 }),
      amount: fc.integer({ min: 1, max: 99_999_999 }),
    });
    fc.assert(
      fc.property(fc.array(one, { minLength: 1, maxLength: 20 }), (rows) => {
        const transfers = rows.map((row, index) => transfer({ ...row, reference: `P${index}` }));
        const root = sent(order({ transfers }));
        check(root);
        const sum = rows.reduce((all, { amount }) => all + amount, 0);
        expect(at(root, "CstmrCdtTrfInitn/GrpHdr/CtrlSum")).toEqual([amountText(sum, "EUR")]);
        expect(at(root, `${block}/NbOfTxs`)).toEqual([String(rows.length)]);
      }),
      { numRuns: 50 },
    );
  });

  test("names every field that needs another look", () => {
    const result = transferMessage(
      order({
        payer: { name: "Guild", account: "DE00370400440532013000", bank: "nobank" },
        transfers: [transfer(), transfer({ reference: "P2", name: "山田", account: "12" })],
      }),
    );
    expect(result.ok).toBe(false);
    if (result.ok) return;
    expect(result.problem.errors.map(({ field }) => field)).toEqual([
      "payer.account",
      "payer.bank",
      "transfers.1.name",
      "transfers.1.account",
    ]);
    expect(result.problem.errors[0]?.message).toContain("slip");
  });

  test.each<[string, Partial<TransferOrder>]>([
    ["no transfer", { transfers: [] }],
    ["nothing to pay", { transfers: [transfer({ amount: 0 })] }],
    ["less than nothing", { transfers: [transfer({ amount: -1 })] }],
    ["too much", { transfers: [transfer({ amount: 100_000_000_000 })] }],
    ["one reference twice", { transfers: [transfer(), transfer()] }],
    ["markup as a reference", { reference: "<P1>" }],
    ["a day that is none", { day: "2.12.2026" }],
    ["a moment without a zone", { createdAt: "2026-12-01T19:30:00" }],
  ])("is not made for %s", (_, over) => {
    expect(() => transferMessage(order(over))).toThrow(RangeError);
  });
});
