import { connect, createServer, type Socket } from "node:net";

/** A line to a server that can be cut and mended, at an address that stays the same. */
export async function lineTo(port: number) {
  const open = new Set<Socket>();
  let isCut = false;
  const server = createServer((near) => {
    if (isCut) return near.destroy();
    const far = connect(port, "127.0.0.1");
    for (const [from, to] of [
      [near, far],
      [far, near],
    ] as const) {
      open.add(from);
      from.pipe(to);
      from.on("error", () => to.destroy());
      from.on("close", () => {
        open.delete(from);
        to.destroy();
      });
    }
  });
  await new Promise<void>((listening) => server.listen(0, "127.0.0.1", listening));
  const address = server.address();
  if (typeof address !== "object" || !address) throw new Error("The line has no address.");
  return {
    url: `http://127.0.0.1:${address.port}`,
    cut() {
      isCut = true;
      for (const socket of open) socket.destroy();
    },
    mend() {
      isCut = false;
    },
    async close() {
      for (const socket of open) socket.destroy();
      await new Promise((closed) => server.close(closed));
    },
  };
}
