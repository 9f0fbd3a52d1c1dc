import type { OtherTillsReceipt } from "../../../contract/till-fact.ts";
import type { AskReceipt } from "../parts.ts";
import type { Ask } from "./server.ts";

/** Somebody stands at the counter with a piece in the hand. */
const patience = 5_000;

/** Asks for a receipt of any till of the sale, with what has come back of it at all of them. */
export const openAskReceipt =
  (ask: Ask): AskReceipt =>
  async (name) => {
    const path = `/api/till/receipts/${encodeURIComponent(name)}`;
    const reply = await ask(path, { within: patience });
    if (reply.kind === "answer") return { kind: "found", receipt: reply.body as OtherTillsReceipt };
    if (reply.kind === "silent") return reply;
    return reply.status === 404 ? { kind: "none" } : { kind: "refused", words: reply.detail };
  };
