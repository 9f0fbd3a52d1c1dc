import { spawn } from "node:child_process";
import { once } from "node:events";
import { fileURLToPath } from "node:url";

export interface Child {
  address: string;
  stop(): Promise<void>;
}

/** Runs a file of ours in a process of its own and waits until it says where it listens. */
export async function startChild(file: string, settings: Record<string, string>): Promise<Child> {
  const path = fileURLToPath(new URL(file, import.meta.url));
  const child = spawn(process.execPath, ["--import", "tsx", path], {
    env: { ...process.env, ...settings },
    stdio: ["ignore", "pipe", "inherit"],
  });
  const address = await new Promise<string>((resolve, reject) => {
    let told = "";
    child.stdout.on("data", (chunk: Buffer) => {
      told += chunk.toString();
      const found = /http:\/\/\S+/.exec(told)?.[0];
      if (found) resolve(found);
    });
    child.on("exit", () => reject(new Error(`${file} ended before it listened. ${told}`)));
  });
  return {
    address,
    stop: async () => {
      const gone = once(child, "exit");
      child.kill("SIGTERM");
      await gone;
    },
  };
}
