import { type ChildProcess, spawn } from "node:child_process";
import { once } from "node:events";
import { createServer } from "node:net";
import { fileURLToPath } from "node:url";
import { secret } from "./app.ts";

const server = fileURLToPath(new URL("../../src/server.ts", import.meta.url));

export interface ServerProcess {
  address: string;
  /** Ends it as a power cut would: nothing is closed and nobody is told. */
  kill(): Promise<void>;
}

/** The real server in a process of its own, signing with the secret of the tests. */
export async function startServer(databaseUrl: string, port: number): Promise<ServerProcess> {
  const child = spawn(process.execPath, ["--import", "tsx", server], {
    env: {
      ...process.env,
      DATABASE_URL: databaseUrl,
      PORT: String(port),
      SECRET: secret,
      LOG_LEVEL: "silent",
    },
    stdio: ["ignore", "pipe", "pipe"],
  });
  await listening(child);
  return {
    address: `http://127.0.0.1:${port}`,
    kill: async () => {
      if (child.exitCode !== null || child.signalCode !== null) return;
      const gone = once(child, "exit");
      child.kill("SIGKILL");
      await gone;
    },
  };
}

function listening(child: ChildProcess): Promise<void> {
  return new Promise((resolve, reject) => {
    let told = "";
    const hear = (chunk: Buffer) => {
      told += chunk.toString();
      if (told.includes("is at http")) resolve();
    };
    child.stdout?.on("data", hear);
    child.stderr?.on("data", hear);
    child.on("exit", () => reject(new Error(`The server ended: ${told}`)));
  });
}

/** A port nobody listens on at this moment; the same one serves again after a restart. */
export async function freePort(): Promise<number> {
  const probe = createServer().listen(0, "127.0.0.1");
  await once(probe, "listening");
  const { port } = probe.address() as { port: number };
  probe.close();
  await once(probe, "close");
  return port;
}
