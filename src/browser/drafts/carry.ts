import type { DraftRow, KeptDraft } from "../../contract/draft.ts";
import type { Typed } from "./shelf.ts";

/** What became of a question; "silent" is whatever may be different the next time. */
export type Answer<T> =
  | { kind: "answer"; body: T }
  | { kind: "refused"; code: string }
  | { kind: "silent" };

/** The server, as far as drafts need it. */
export interface Carry {
  send(typed: Typed): Promise<Answer<KeptDraft>>;
  list(): Promise<Answer<{ items: DraftRow[] }>>;
}

const longest = 8_000;

/** Asks with the cookie of this session; `token` is that of the forms on this page. */
export function carryWith(token: () => string, ask: typeof fetch = fetch): Carry {
  async function call<T>(path: string, body?: object): Promise<Answer<T>> {
    try {
      const response = await ask(`/api/me/drafts${path}`, {
        method: body ? "PUT" : "GET",
        headers: {
          accept: "application/json",
          "x-form-token": token(),
          ...(body ? { "content-type": "application/json" } : {}),
        },
        ...(body ? { body: JSON.stringify(body) } : {}),
        cache: "no-store",
        signal: AbortSignal.timeout(longest),
      });
      // A hall's sign-on page answers too, and a server that is overloaded answers later.
      const type = response.headers.get("content-type") ?? "";
      if (!/^application\/(problem\+)?json/.test(type)) return { kind: "silent" };
      if (response.status >= 500 || response.status === 429) return { kind: "silent" };
      const told = await response.json();
      return response.ok ? { kind: "answer", body: told } : { kind: "refused", code: told.code };
    } catch {
      return { kind: "silent" };
    }
  }
  return {
    send: ({ id, form, saleId, fields, version, typedAt }) =>
      call(`/${id}`, { form, saleId, fields, version, typedAt }),
    list: () => call(""),
  };
}
