import { readPinHash } from "../../../rules/pin.ts";

/** Whether a PIN is the one that was stored; worked out here, so that it holds off line as well. */
export async function pinFits(pin: string, stored: string): Promise<boolean> {
  const hash = readPinHash(stored);
  if (!hash) return false;
  const typed = await crypto.subtle.importKey(
    "raw",
    new TextEncoder().encode(pin),
    "PBKDF2",
    false,
    ["deriveBits"],
  );
  const { rounds: iterations } = hash;
  const salt = bytesOf(hash.salt);
  const bits = await crypto.subtle.deriveBits(
    { name: "PBKDF2", hash: "SHA-256", salt, iterations },
    typed,
    256,
  );
  const key = bytesOf(hash.key);
  return new Uint8Array(bits).every((byte, index) => byte === key[index]);
}

/** Base64url, as the server writes it. */
function bytesOf(text: string): Uint8Array<ArrayBuffer> {
  const plain = atob(text.replaceAll("-", "+").replaceAll("_", "/"));
  return Uint8Array.from(plain, (sign) => sign.charCodeAt(0));
}

export interface PinTries {
  wrong: number;
  /** The moment before which no further try is looked at; 0 for none. */
  waitUntil: number;
}

export const noTries: PinTries = { wrong: 0, waitUntil: 0 };

const mostWrong = 5;
const waitMilliseconds = 30_000;

/** After each fifth wrong PIN the till waits, so that nobody tries them all during a sale. */
export function afterWrong({ wrong }: PinTries, now: number): PinTries {
  const next = wrong + 1;
  return next < mostWrong
    ? { wrong: next, waitUntil: 0 }
    : { wrong: 0, waitUntil: now + waitMilliseconds };
}

/** Whole seconds left to wait. A clock that was set back makes nobody wait longer than that. */
export const secondsToWait = ({ waitUntil }: PinTries, now: number): number =>
  Math.ceil(Math.min(Math.max(waitUntil - now, 0), waitMilliseconds) / 1_000);
