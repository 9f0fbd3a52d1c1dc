import type { Carry } from "../../../src/browser/drafts/carry.ts";
import type { DraftRow, ShownDraft } from "../../../src/contract/draft.ts";

/** A server of drafts that can be out of reach; it keeps to the rules of the real one. */
export function draftServer() {
  const drafts = new Map<string, ShownDraft>();
  let next = 0;
  const server = { drafts, reachable: true, refuses: "" };
  const carry: Carry = {
    send: async ({ id, form, saleId, fields, version, typedAt }) => {
      if (!server.reachable) return { kind: "silent" };
      if (server.refuses) return { kind: "refused", code: server.refuses };
      const there = drafts.get(id);
      if (!there && version > 0) return { kind: "refused", code: "not-found" };
      const clash = there && there.version !== version;
      next += 1;
      const kept = clash ? `beside-${next}` : id;
      const given = clash ? 1 : version + 1;
      drafts.set(kept, { id: kept, form, saleId, fields, version: given, typedAt });
      const beside = clash ? { id, typedAt: there.typedAt, newer: there.typedAt > typedAt } : null;
      return { kind: "answer", body: { id: kept, version: given, typedAt, beside } };
    },
    list: async () =>
      server.reachable
        ? { kind: "answer", body: { items: [...drafts.values()] as DraftRow[] } }
        : { kind: "silent" },
  };
  return Object.assign(server, { carry });
}
