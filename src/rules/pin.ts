import type { FieldError } from "./problem.ts";

/** PBKDF2 with SHA-256: so many rounds, about a third of a second on an old phone. */
export const pinRounds = 210_000;

/** A stored PIN in its parts; salt and key stay base64url text, for each side decodes its own way. */
export interface PinHash {
  rounds: number;
  salt: string;
  key: string;
}

const pattern = /^([1-9]\d{3,6})\$([\w-]{16,64})\$([\w-]{43})$/;

/** "rounds$salt$key", as it is stored and told to the tills. */
export const writePinHash = ({ rounds, salt, key }: PinHash): string => `${rounds}$${salt}$${key}`;

/** The parts of a stored PIN; undefined for a text that is none. */
export function readPinHash(text: string): PinHash | undefined {
  const [, rounds, salt, key] = pattern.exec(text) ?? [];
  return rounds && salt && key ? { rounds: Number(rounds), salt, key } : undefined;
}

/**
 * Judges a new PIN: four to six digits that are neither one digit repeated ("0000"), nor one pair
 * repeated ("1212"), nor a run up or down ("1234", "8765", also past the end: "7890"). Whether
 * somebody else has the same one is never told.
 */
export function checkPin(pin: string): FieldError[] {
  const refusal = (message: string): FieldError[] => [{ field: "pin", message }];
  if (!/^\d{4,6}$/.test(pin)) return refusal("Use four to six digits.");
  if (repeats(pin, 1) || repeats(pin, 2) || runs(pin, 1) || runs(pin, 9))
    return refusal("This one is guessed too soon. Use digits that neither repeat nor run on.");
  return [];
}

const repeats = (pin: string, length: number): boolean =>
  [...pin].every((digit, index) => digit === pin[index % length]);

/** Each digit follows the one before by the same step, and 0 follows 9. */
const runs = (pin: string, step: number): boolean =>
  [...pin].slice(1).every((digit, index) => Number(digit) === (Number(pin[index]) + step) % 10);
