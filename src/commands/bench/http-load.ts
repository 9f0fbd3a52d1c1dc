import { connect, type Socket } from "node:net";
import { performance } from "node:perf_hooks";

export interface Call {
  method: "GET" | "POST";
  path: string;
  headers?: Record<string, string>;
  body?: string;
}

export interface Load {
  /** Answers in the 200s per second. */
  perSecond: number;
  others: number;
}

/**
 * Keeps one request in flight on each of a number of connections. It speaks just enough HTTP for
 * our own answers, so that the measuring costs little of the machine that is being measured.
 */
export async function load(
  address: string,
  connections: number,
  seconds: number,
  next: (connection: number) => Call,
): Promise<Load> {
  const { hostname, port } = new URL(address);
  const start = performance.now();
  const end = start + seconds * 1_000;
  const counts = await Promise.all(
    Array.from({ length: connections }, (_, index) =>
      keepAsking(connect(Number(port), hostname), hostname, end, () => next(index)),
    ),
  );
  const took = (performance.now() - start) / 1_000;
  const good = counts.reduce((sum, count) => sum + count.good, 0);
  return {
    perSecond: good / took,
    others: counts.reduce((sum, count) => sum + count.others, 0),
  };
}

function keepAsking(socket: Socket, host: string, end: number, next: () => Call) {
  return new Promise<{ good: number; others: number }>((resolve, reject) => {
    const counts = { good: 0, others: 0 };
    let heard = "";
    socket.setNoDelay(true);
    socket.setEncoding("latin1");
    socket.on("error", reject);
    socket.on("close", () => resolve(counts));
    socket.on("data", (chunk: string) => {
      heard += chunk;
      const length = answerLength(heard);
      if (length === undefined || heard.length < length) return;
      if (/^HTTP\/1\.1 2/.test(heard)) counts.good += 1;
      else counts.others += 1;
      heard = heard.slice(length);
      if (performance.now() < end) socket.write(written(next(), host));
      else socket.end();
    });
    socket.on("connect", () => socket.write(written(next(), host)));
  });
}

function answerLength(heard: string): number | undefined {
  const head = heard.indexOf("\r\n\r\n");
  if (head < 0) return undefined;
  const body = /^content-length: (\d+)/im.exec(heard.slice(0, head))?.[1];
  if (body === undefined) throw new Error(`An answer without a length: ${heard.slice(0, 200)}`);
  return head + 4 + Number(body);
}

function written({ method, path, headers = {}, body = "" }: Call, host: string): string {
  const lines = Object.entries({ host, ...headers }).map(([name, value]) => `${name}: ${value}`);
  if (body !== "")
    lines.push("content-type: application/json", `content-length: ${Buffer.byteLength(body)}`);
  return `${method} ${path} HTTP/1.1\r\n${lines.join("\r\n")}\r\n\r\n${body}`;
}
