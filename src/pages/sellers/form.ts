import {
  type ManySellersInput,
  manySellersShape,
  type SellerInput,
  sellerChanges,
  sellerShape,
} from "../../contract/seller.ts";
import type { Policy } from "../../rules/policy/policy.ts";
import { type Result, refuseField } from "../../rules/problem.ts";
import { type Fields, textOf, ticked, tickedOf } from "../items/fields.ts";
import { readForm } from "../read-form.ts";

/** Reads the form of one member's terms. */
export function readSeller(fields: Fields): Result<SellerInput> {
  const version = textOf(fields, "version");
  return readForm(sellerShape, {
    visitor: ticked(fields, "visitor"),
    committee: ticked(fields, "committee"),
    classCode: textOf(fields, "classCode") || null,
    payMethod: textOf(fields, "payMethod") || null,
    payAll: ticked(fields, "payAll"),
    version: /^\d{1,9}$/.test(version) ? Number(version) : undefined,
  });
}

/** Everything that can be changed for several at once, as one list of choices. */
export const manyChoices = ({ rates }: Policy) => [
  { value: "committee:yes", label: "On the committee" },
  { value: "committee:no", label: "Not on the committee" },
  { value: "visitor:yes", label: "A visitor" },
  { value: "visitor:no", label: "Not a visitor" },
  ...rates.classes.map(({ code, name }) => ({ value: `class:${code}`, label: `Class: ${name}` })),
  ...(rates.classes.length > 0 ? [{ value: "class:", label: "No class" }] : []),
  { value: "pay-all:yes", label: "Small sums are paid too" },
  { value: "pay-all:no", label: "Small sums are kept until there is more" },
];

/** Reads the ticked members and the choice, such as "committee:yes" or "class:honorary". */
export function readMany(fields: Fields): Result<ManySellersInput> {
  const [, change, rest = ""] = /^([a-z-]+):(.*)$/.exec(textOf(fields, "change")) ?? [];
  const known = sellerChanges.find((one) => one === change);
  const memberIds = tickedOf(fields, "memberIds");
  if (!known) return refuseField("change", "Choose what to change for the ticked members.");
  if (known === "class")
    return readForm(manySellersShape, { memberIds, change: known, classCode: rest || null });
  return readForm(manySellersShape, { memberIds, change: known, on: rest !== "no" });
}
