import type { PrinterInput } from "../contract/label-stock.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { changedMeanwhile } from "./sale-lock.ts";

type Kept = { id: string; version: number };

/** Keeps how far a printer is off, so that nobody has to find out twice. */
export const addPrinter = (deed: Deed, given: PrinterInput): Promise<Result<Kept>> =>
  perform(deed, "add-printer", given, async (tx) => {
    const { id } = await tx.printer.create({ data: { ...given, byId: deed.actor.id } });
    return ok({ value: { id, version: 1 }, subjectId: id, detail: given });
  });

export const editPrinter = (
  deed: Deed,
  id: string,
  { version, ...data }: PrinterInput & { version: number },
): Promise<Result<Kept>> =>
  perform(deed, "edit-printer", { id, version, data }, async (tx) => {
    if (!(await tx.printer.findFirst({ where: { id, retiredAt: null } }))) return noPrinter();
    const changed = await tx.printer.updateMany({
      where: { id, version, retiredAt: null },
      data: { ...data, version: { increment: 1 } },
    });
    if (changed.count === 0) return changedMeanwhile();
    return ok({ value: { id, version: version + 1 }, subjectId: id, detail: data });
  });

export const retirePrinter = (deed: Deed, id: string): Promise<Result<{ id: string }>> =>
  perform(deed, "retire-printer", { id }, async (tx) => {
    const retired = await tx.printer.updateMany({
      where: { id, retiredAt: null },
      data: { retiredAt: new Date() },
    });
    return retired.count === 0 ? noPrinter() : ok({ value: { id }, subjectId: id });
  });

const noPrinter = (): Result<never> => refuse("not-found", "There is no such printer.");
