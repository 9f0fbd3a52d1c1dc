import type { TillStatus } from "../../../contract/till-device.ts";

/** What became of a question to the server; "silent" is everything that is worth asking again. */
export type Reply =
  | { kind: "answer"; body: unknown }
  | { kind: "refused"; status: number; code: string; detail: string; body: unknown }
  | { kind: "silent" };

export interface Question {
  body?: object;
  /** Milliseconds after which nobody waits any longer. */
  within?: number;
}

export type Ask = (path: string, question?: Question) => Promise<Reply>;

const usualWait = 10_000;

/**
 * Asks our server and never throws; every question says what this till has not sent yet. `clock` hears
 * what the server's clock shows with each of its answers.
 */
export function askServer(
  status: () => TillStatus,
  send: typeof fetch = fetch,
  clock: (now: number) => void = () => {},
): Ask {
  return async (path, { body, within = usualWait } = {}) => {
    try {
      const response = await send(path, {
        method: body ? "POST" : "GET",
        headers: {
          accept: "application/json",
          "x-till-status": JSON.stringify(status()),
          ...(body ? { "content-type": "application/json" } : {}),
        },
        body: body ? JSON.stringify(body) : undefined,
        cache: "no-store",
        signal: AbortSignal.timeout(within),
      });
      const reply = await replyOf(response);
      const now = Date.parse(response.headers.get("date") ?? "");
      if (reply.kind !== "silent" && !Number.isNaN(now)) clock(now);
      return reply;
    } catch {
      return { kind: "silent" };
    }
  };
}

/** A hall's own sign-on page answers 200 as well, but never in JSON. */
async function replyOf(response: Response): Promise<Reply> {
  const { status, ok, headers } = response;
  if (status === 204) return { kind: "answer", body: undefined };
  if (!/^application\/(problem\+)?json/.test(headers.get("content-type") ?? ""))
    return { kind: "silent" };
  const body: unknown = await response.json();
  if (ok) return { kind: "answer", body };
  // Overload and faults pass: what was asked for is not refused by them.
  if (status >= 500 || status === 429 || status === 408) return { kind: "silent" };
  const { code = "", detail = "" } = (body ?? {}) as { code?: string; detail?: string };
  return { kind: "refused", status, code, detail, body };
}
