import { z } from "zod";
import { type ReturnInput, returnShape } from "../../contract/receipt.ts";
import type { ReceiptRead } from "../../database/receipts.ts";
import { type FieldError, ok, type Problem, problem, type Result } from "../../rules/problem.ts";
import { readForm } from "../read-form.ts";

const tender = returnShape.shape.tender.shape;

const form = z
  .object({
    tillId: returnShape.shape.tillId,
    kind: tender.kind,
    reference: z.string().default("").pipe(tender.reference.unwrap()),
    reason: returnShape.shape.reason,
  })
  .loose();

/** The field of a line: "back.1" for the first. */
export const fieldOf = (position: number): string => `back.${position}`;

/** Reads how many pieces of each line come back; an empty field means none. */
export function readReturn(body: unknown, receipt: ReceiptRead): Result<ReturnInput> {
  const fields = (body ?? {}) as Record<string, unknown>;
  const wrong: FieldError[] = [];
  const lines = receipt.lines.flatMap(({ id, position }) => {
    const text = String(fields[fieldOf(position)] ?? "").trim();
    if (text === "" || text === "0") return [];
    if (/^[1-9]\d{0,2}$/.test(text))
      return [{ lineId: id, quantity: Number(text), goesTo: "floor" as const }];
    wrong.push({ field: fieldOf(position), message: "Type how many pieces come back, in digits." });
    return [];
  });
  if (lines.length === 0 && wrong.length === 0)
    wrong.push({ field: firstOpenField(receipt), message: "Choose at least one piece." });
  const read = readForm(form, body);
  if (!read.ok) return { ok: false, problem: withErrors(read.problem, wrong) };
  if (wrong.length > 0)
    return {
      ok: false,
      problem: problem("invalid-input", "Nothing was recorded yet. What you typed is here.", wrong),
    };
  const { tillId, kind, reference, reason } = read.value;
  return ok({ tillId, lines, reason, tender: { kind, ...(reference ? { reference } : {}) } });
}

const withErrors = (found: Problem, more: FieldError[]): Problem => ({
  ...found,
  errors: [...more, ...found.errors],
});

const firstOpenField = ({ lines }: ReceiptRead): string =>
  fieldOf(lines.find(({ quantity, returned }) => returned < quantity)?.position ?? 1);

/** Names the fields of the form where the action names those of its input. */
export function asTyped(refused: Problem, input: ReturnInput, receipt: ReceiptRead): Problem {
  const positions = new Map(receipt.lines.map(({ id, position }) => [id, position]));
  const field = (name: string): string => {
    const index = /^lines\.(\d+)\./.exec(name)?.[1];
    const line = index === undefined ? undefined : input.lines[Number(index)];
    if (line) return fieldOf(positions.get(line.lineId) ?? 1);
    return name.replace(/^tender\./, "");
  };
  return {
    ...refused,
    errors: refused.errors.map((error) => ({ ...error, field: field(error.field) })),
  };
}
