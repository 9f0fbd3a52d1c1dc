import { hash, verify } from "@node-rs/argon2";

/** Argon2id (the library's default) with 64 MiB and three passes: above OWASP's floor, under 0.1 s. */
const cost = { memoryCost: 65_536, timeCost: 3, parallelism: 1 };

export const hashPassphrase = (phrase: string): Promise<string> => hash(phrase, cost);

/** Any hash of the same cost: an unknown account takes as long to refuse as a known one. */
const nobody = hashPassphrase("no account has this pass phrase");

export async function fits(phrase: string, stored: string | null | undefined): Promise<boolean> {
  const right = await verify(stored ?? (await nobody), phrase).catch(() => false);
  return right && Boolean(stored);
}
