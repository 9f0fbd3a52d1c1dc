import { pbkdf2, randomBytes } from "node:crypto";
import { promisify } from "node:util";
import { type Deed, perform } from "../database/perform.ts";
import { checkPin, pinRounds, writePinHash } from "../rules/pin.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";
import { hasAny } from "../rules/roles.ts";

const derive = promisify(pbkdf2);

/**
 * Chooses one's own PIN for taking over a till. It is stored as PBKDF2 because the till checks it
 * off line and a browser knows no Argon2id. No cost makes so short a number hard to guess for
 * somebody who has the device and its store: what guards it is that a till can do nothing but sell,
 * that every receipt names its cashier, and that a lost device is shut out at once.
 */
export async function setPin(deed: Deed, pin: string): Promise<Result<{ set: true }>> {
  if (!hasAny(deed.actor.roles, ["cashier", "chair"]))
    return refuse("not-allowed", "A PIN is for those who sell at a till.");
  const errors = checkPin(pin);
  if (errors[0]) return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
  const pinHash = await hashPin(pin);
  const { id } = deed.actor;
  return perform({ ...deed, key: undefined }, "set-pin", {}, async (tx) => {
    await tx.member.update({ where: { id }, data: { pinHash } });
    return ok({ value: { set: true as const }, subjectId: id });
  });
}

export async function hashPin(pin: string): Promise<string> {
  const salt = randomBytes(16);
  const key = await derive(pin, salt, pinRounds, 32, "sha256");
  return writePinHash({
    rounds: pinRounds,
    salt: salt.toString("base64url"),
    key: key.toString("base64url"),
  });
}

/** The chair takes a PIN away: the member chooses a new one, or sells no more. */
export const clearPin = (deed: Deed, memberId: string): Promise<Result<{ id: string }>> =>
  perform(deed, "clear-pin", { memberId }, async (tx) => {
    const cleared = await tx.member.updateMany({
      where: { id: memberId, pinHash: { not: null } },
      data: { pinHash: null },
    });
    if (cleared.count === 0) return refuse("not-found", "This member has no PIN.");
    return ok({ value: { id: memberId }, subjectId: memberId });
  });
