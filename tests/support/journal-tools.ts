import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/**
 * Independent programs that read plain-text journals. On the machine that decides what lands they
 * are installed, so there their absence is a failure; at home the tests that need them are skipped.
 */
export const found = (program: string): boolean =>
  spawnSync(program, ["--version"], { stdio: "ignore" }).status === 0;

export const needed = (program: string): boolean => found(program) || Boolean(process.env.CI);

/** Runs a program on a journal; `args` come after the file. */
export function onJournal(journal: string, program: string, args: string[]) {
  const folder = mkdtempSync(join(tmpdir(), "thrumbook-journal-"));
  const file = join(folder, "sale.journal");
  writeFileSync(file, journal);
  const run = spawnSync(program, ["-f", file, ...args], { encoding: "utf8" });
  rmSync(folder, { recursive: true });
  return { status: run.status, stdout: run.stdout ?? "", stderr: run.stderr ?? "" };
}

/** Balances as hledger works them out, by account, as it writes them ("USD -9.00"). */
export function balancesByHledger(journal: string): Record<string, string> {
  const { stdout } = onJournal(journal, "hledger", ["bal", "-N", "--flat", "-O", "csv"]);
  const rows = stdout.trim().split("\n").slice(1);
  return Object.fromEntries(
    rows.map((row) => row.split('","').map((cell) => cell.replace(/^"|"$/g, ""))),
  );
}
