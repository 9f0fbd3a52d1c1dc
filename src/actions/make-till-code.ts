import { createHash, randomInt } from "node:crypto";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result, refuse } from "../rules/problem.ts";
import { codeAlphabet, codeLength, codeMinutes } from "../rules/till-code.ts";
import { lockSale } from "./sale-lock.ts";

export const hashCode = (code: string): string =>
  createHash("sha256").update(`till ${code}`).digest("hex");

/**
 * A code that makes one device this till, or lets its own device in again, for fifteen minutes. An
 * earlier one of the till ends.
 * It is never stored under a key: a replay would have to keep it readable.
 */
export const makeTillCode = (
  deed: Deed,
  given: { saleId: string; tillId: string; now: Date },
): Promise<Result<{ code: string; expiresAt: string }>> => {
  const { saleId, tillId, now } = given;
  return perform({ ...deed, key: undefined }, "make-till-code", { saleId, tillId }, async (tx) => {
    const sale = await lockSale(tx, saleId);
    if (!sale.ok) return sale;
    const till = await tx.till.findFirst({ where: { id: tillId, saleId } });
    if (!till) return refuse("not-found", "This sale has no such till.");
    if (sale.value.stage === "closed")
      return refuse("stage-closed", "The sale is closed, so no device becomes its till any more.");
    const code = randomCode();
    const expiresAt = new Date(now.getTime() + codeMinutes * 60_000);
    await tx.tillCode.updateMany({ where: { tillId, usedAt: null }, data: { usedAt: now } });
    await tx.tillCode.create({
      data: { codeHash: hashCode(code), tillId, byId: deed.actor.id, createdAt: now, expiresAt },
    });
    const value = { code, expiresAt: expiresAt.toISOString() };
    return ok({ value, subjectId: tillId, detail: { number: till.number } });
  });
};

const randomCode = (): string =>
  Array.from({ length: codeLength }, () =>
    codeAlphabet.charAt(randomInt(codeAlphabet.length)),
  ).join("");
