import { createHash, createHmac, randomBytes, timingSafeEqual } from "node:crypto";

/** 256 random bits, safe in links and cookies. */
export const randomToken = (): string => randomBytes(32).toString("base64url");

/** Tokens of 256 random bits need no slow hash: there is nothing to guess. */
export const hashToken = (token: string): string =>
  createHash("sha256").update(token).digest("hex");

/** Ties a form to the session (or visitor) it was shown to. */
export const formToken = (secret: string, owner: string): string =>
  createHmac("sha256", secret).update(`form ${owner}`).digest("base64url");

export function sameText(a: string, b: string): boolean {
  const left = Buffer.from(a);
  const right = Buffer.from(b);
  return left.length === right.length && timingSafeEqual(left, right);
}
