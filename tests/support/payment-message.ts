import type { Node } from "../rules/paying/xml-reader.ts";

/**
 * The structure of ISO 20022 pain.001.001.09 (CustomerCreditTransferInitiationV09) as far as a
 * guild's file goes into it, written by us from the published element rules: order, how often,
 * types and lengths (the message's own definition; EPC132-08 2023 for what SEPA restricts).
 * "CtrlSum" may be left out by the standard; our profile wants it, because it is the check.
 */
interface Element {
  name: string;
  min: 0 | 1;
  max: 1 | "many";
  is: readonly Element[] | RegExp;
  /** Exactly one of the children, where the standard has a choice. */
  choice?: true;
  attribute?: [name: string, pattern: RegExp];
}

const one = (name: string, is: Element["is"]): Element => ({ name, min: 1, max: 1, is });
const maybe = (name: string, is: Element["is"]): Element => ({ name, min: 0, max: 1, is });
const choiceOf = (name: string, ...is: Element[]): Element => ({ ...one(name, is), choice: true });

const upTo = (length: number) => new RegExp(`^.{1,${length}}$`, "su");
const count = /^[0-9]{1,15}$/;
/** At most 18 digits, five of them after the point. */
const sum = /^(?=[\d.]{1,19}$)\d{1,17}(\.\d{1,5})?$/;
const day = /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$/;
const moment =
  /^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])T([01]\d|2[0-3]):[0-5]\d:[0-5]\d(\.\d+)?(Z|[+-]\d\d:\d\d)?$/;
const bic = /^[A-Z0-9]{4}[A-Z]{2}[A-Z0-9]{2}([A-Z0-9]{3})?$/;
const iban = /^[A-Z]{2}[0-9]{2}[a-zA-Z0-9]{1,30}$/;

const party = [one("Nm", upTo(140))];
const account = [choiceOf("Id", maybe("IBAN", iban), maybe("Othr", [one("Id", upTo(34))]))];
const agent = [one("FinInstnId", [maybe("BICFI", bic), maybe("Othr", [one("Id", upTo(35))])])];

const transfer: Element[] = [
  one("PmtId", [maybe("InstrId", upTo(35)), one("EndToEndId", upTo(35))]),
  one("Amt", [
    {
      ...one("InstdAmt", /^(?=[\d.]{1,19}$)\d{1,18}(\.\d{1,5})?$/),
      attribute: ["Ccy", /^[A-Z]{3}$/],
    },
  ]),
  maybe("CdtrAgt", agent),
  one("Cdtr", party),
  one("CdtrAcct", account),
  maybe("RmtInf", [maybe("Ustrd", upTo(140))]),
];

const block: Element[] = [
  one("PmtInfId", upTo(35)),
  one("PmtMtd", /^TRF$/),
  maybe("BtchBookg", /^(true|false)$/),
  maybe("NbOfTxs", count),
  one("CtrlSum", sum),
  maybe("PmtTpInf", [maybe("SvcLvl", [one("Cd", upTo(4))])]),
  choiceOf("ReqdExctnDt", maybe("Dt", day), maybe("DtTm", moment)),
  one("Dbtr", party),
  one("DbtrAcct", account),
  one("DbtrAgt", agent),
  maybe("ChrgBr", /^(DEBT|CRED|SHAR|SLEV)$/),
  { name: "CdtTrfTxInf", min: 1, max: "many", is: transfer },
];

const document = one("Document", [
  one("CstmrCdtTrfInitn", [
    one("GrpHdr", [
      one("MsgId", upTo(35)),
      one("CreDtTm", moment),
      one("NbOfTxs", count),
      one("CtrlSum", sum),
      one("InitgPty", [maybe("Nm", upTo(140))]),
    ]),
    { name: "PmtInf", min: 1, max: "many", is: block },
  ]),
]);

/** Everything that is wrong with a message: its structure first, then its counts and sums. */
export function faultsOf(root: Node): string[] {
  const faults = checkElement(root, document, root.name);
  if (root.attributes.xmlns !== "urn:iso:std:iso:20022:tech:xsd:pain.001.001.09")
    faults.push("Document: another namespace");
  return faults.length > 0 ? faults : checkSums(root);
}

function checkElement(node: Node, rule: Element, path: string): string[] {
  if (node.name !== rule.name) return [`${path}: ${rule.name} was expected`];
  const faults: string[] = [];
  const names = Object.keys(node.attributes).filter((name) => name !== "xmlns");
  const [wanted, pattern] = rule.attribute ?? [];
  if (names.join() !== (wanted ?? "")) faults.push(`${path}: attributes ${names.join()}`);
  if (wanted && !pattern?.test(node.attributes[wanted] ?? "")) faults.push(`${path}: ${wanted}`);
  if (rule.is instanceof RegExp) {
    if (node.children.length > 0 || !rule.is.test(node.text))
      faults.push(`${path}: "${node.text}"`);
    return faults;
  }
  if (rule.choice && node.children.length !== 1) faults.push(`${path}: one of its choices`);
  return [...faults, ...checkChildren(node, rule.is, path)];
}

/** Walks the children and the rules side by side: what is out of its place is a fault. */
function checkChildren(node: Node, rules: readonly Element[], path: string): string[] {
  const faults: string[] = [];
  let at = 0;
  for (const rule of rules) {
    let found = 0;
    while (node.children[at]?.name === rule.name && (rule.max === "many" || found === 0)) {
      faults.push(...checkElement(node.children[at]!, rule, `${path}/${rule.name}`));
      at += 1;
      found += 1;
    }
    if (found < rule.min) faults.push(`${path}: ${rule.name} is missing here`);
  }
  const next = node.children[at];
  if (next) faults.push(`${path}: ${next.name} does not belong here`);
  return faults;
}

const all = (node: Node, name: string): Node[] =>
  node.children.flatMap((child) => [...(child.name === name ? [child] : []), ...all(child, name)]);
const textOf = (node: Node | undefined, name: string): string =>
  node?.children.find((child) => child.name === name)?.text ?? "";

/** Five decimals as whole numbers, so that no sum goes through a float. */
function exact(text: string): bigint {
  const [whole = "0", fraction = ""] = text.split(".");
  return BigInt(whole + fraction.padEnd(5, "0"));
}

function checkSums(root: Node): string[] {
  const [heading] = all(root, "GrpHdr");
  const blocks = all(root, "PmtInf");
  const faults: string[] = [];
  for (const [part, inside] of [
    [heading, root] as const,
    ...blocks.map((one) => [one, one] as const),
  ]) {
    const amounts = all(inside, "InstdAmt").map(({ text }) => exact(text));
    const together = amounts.reduce((left, right) => left + right, 0n);
    if (exact(textOf(part, "CtrlSum")) !== together) faults.push(`${part?.name}: CtrlSum`);
    if (textOf(part, "NbOfTxs") !== "" && Number(textOf(part, "NbOfTxs")) !== amounts.length)
      faults.push(`${part?.name}: NbOfTxs`);
    if (amounts.some((amount) => amount <= 0n)) faults.push(`${part?.name}: an amount of nothing`);
  }
  const references = all(root, "EndToEndId").map(({ text }) => text);
  if (new Set(references).size < references.length) faults.push("EndToEndId comes twice");
  return faults;
}
