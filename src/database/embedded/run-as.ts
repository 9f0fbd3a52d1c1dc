import { execFileSync } from "node:child_process";

export interface RunAs {
  uid?: number;
  gid?: number;
}

const lookUp = (flag: "-u" | "-g", user: string): number =>
  Number(execFileSync("id", [flag, user], { stdio: ["ignore", "pipe", "ignore"] }).toString());

const find = (user: string): RunAs | undefined => {
  try {
    return { uid: lookUp("-u", user), gid: lookUp("-g", user) };
  } catch {
    return undefined;
  }
};

const create = (user: string): RunAs | undefined => {
  try {
    execFileSync("useradd", ["--system", "--user-group", user], { stdio: "ignore" });
    return find(user);
  } catch {
    return undefined;
  }
};

/** PostgreSQL refuses to run as root, so root lends it the name of an ordinary account. */
export function whoRunsPostgres(): RunAs {
  if (process.getuid?.() !== 0) return {};
  const account = find("postgres") ?? create("postgres") ?? find("nobody");
  if (!account) throw new Error("PostgreSQL cannot run as root and no other account was found.");
  return account;
}
