import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";

/** The device of a till is gone for good: its token counts for nothing from this moment on. */
export const markTillLost = (
  deed: Deed,
  given: { saleId: string; tillId: string; reason: string },
): Promise<Result<{ tillId: string; unsent: number }>> =>
  perform(deed, "mark-till-lost", given, async (tx) => {
    const { saleId, tillId, reason } = given;
    const device = await tx.tillDevice.findFirst({
      where: { tillId, till: { saleId } },
      include: { till: true },
    });
    if (!device) return refuse("not-found", "This till of the sale has no device.");
    const marked = await tx.tillDevice.updateMany({
      where: { tillId, lostAt: null },
      data: { lostAt: new Date() },
    });
    if (marked.count === 0)
      return refuse(
        "already-done",
        "This device is noted as lost already and can do nothing more.",
      );
    const { unsent } = device;
    const detail = { number: device.till.number, device: device.name, reason, unsent };
    return ok({ value: { tillId, unsent }, subjectId: tillId, detail });
  });
