import { connect, createServer, type Socket } from "node:net";

/** What becomes of a request: it never arrives, or it arrives and its answer does not come back. */
export type Fate = "good" | "lost" | "answer lost";

/** How the line carries: how long each way takes, and what becomes of each request by its first line. */
export interface Air {
  delay: number;
  fate(request: string): Fate;
}

const clear: Air = { delay: 0, fate: () => "good" };

/** A line to a server that can be bad, cut and mended, at an address that stays the same. */
export async function lineTo(port: number) {
  const open = new Set<Socket>();
  let isCut = false;
  let air = clear;
  const server = createServer((near) => {
    if (isCut) return near.destroy();
    const far = connect(port, "127.0.0.1");
    join(near, far, () => air);
    for (const socket of [near, far]) {
      open.add(socket);
      socket.on("close", () => open.delete(socket));
    }
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const address = server.address();
  if (typeof address !== "object" || !address) throw new Error("The line has no address.");
  return {
    url: `http://127.0.0.1:${address.port}`,
    become(next: Air) {
      air = next;
    },
    cut() {
      isCut = true;
      for (const socket of open) socket.destroy();
    },
    mend() {
      isCut = false;
      air = clear;
    },
    async close() {
      for (const socket of open) socket.destroy();
      await new Promise((closed) => server.close(closed));
    },
  };
}

/** Passes both ways what the air lets through. */
function join(near: Socket, far: Socket, air: () => Air): void {
  let losing = false;
  const end = () => {
    near.destroy();
    far.destroy();
  };
  const later = (work: () => void) => setTimeout(work, air().delay);
  near.on("data", (part: Buffer) => {
    const request = /^[A-Z]+ \S+ HTTP/.exec(part.toString("latin1"))?.[0];
    const fate = request === undefined ? "good" : air().fate(request);
    if (fate === "lost") return end();
    losing ||= fate === "answer lost";
    later(() => far.write(part));
  });
  far.on("data", (part: Buffer) => (losing ? end() : later(() => near.write(part))));
  near.on("end", () => later(() => far.end()));
  far.on("end", () => later(() => near.end()));
  near.on("close", end);
  for (const socket of [near, far]) socket.on("error", end);
}
