import { hash, verify } from "@node-rs/argon2";
import type { Database } from "../database/client.ts";
import { checkPassphrase } from "../rules/passphrase.ts";
import { ok, problem, type Result } from "../rules/problem.ts";

/** Argon2id (the library's default) with 64 MiB and three passes: above OWASP's floor, under 0.1 s. */
const cost = { memoryCost: 65_536, timeCost: 3, parallelism: 1 };

export const hashPassphrase = (phrase: string): Promise<string> => hash(phrase, cost);

/** Any hash of the same cost: an unknown account takes as long to refuse as a known one. */
const nobody = hashPassphrase("no account has this pass phrase");

export async function fits(phrase: string, stored: string | null | undefined): Promise<boolean> {
  const right = await verify(stored ?? (await nobody), phrase).catch(() => false);
  return right && Boolean(stored);
}

/** Judges a new pass phrase of a member and hashes it. */
export async function newHash(
  db: Database,
  { name, email }: { name: string; email: string | null },
  phrase: string,
): Promise<Result<string>> {
  const guild = await db.guild.findFirst();
  const errors = checkPassphrase(phrase, [name, email ?? "", guild?.name ?? ""]);
  if (errors[0]) return { ok: false, problem: problem("invalid-input", errors[0].message, errors) };
  return ok(await hashPassphrase(phrase));
}
