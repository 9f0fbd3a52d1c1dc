import type { ReceiptInput } from "../../contract/receipt.ts";
import type { RecordedShown, TillItemShown } from "../../contract/receipt-shown.ts";
import type { TillSettings } from "./settings.ts";

export interface Refusal {
  code: string;
  title: string;
  detail: string;
  errors: { field: string; message: string }[];
}

export type Answer<T> =
  | { kind: "done"; value: T }
  | { kind: "refused"; status: number; refusal: Refusal }
  | { kind: "no-answer" };

/** Longer than the server's own limit, so that its own answer is heard whenever there is one. */
const patience = 12_000;

/** Asks the server about a tag. */
export const lookUp = (settings: TillSettings, tag: string): Promise<Answer<TillItemShown>> =>
  ask(`/api/sales/${settings.saleId}/till-items/${tag}`, {});

/** Sends a receipt once. Only "done" and a refusal tell what became of it. */
export const sendReceipt = (
  settings: TillSettings,
  receipt: ReceiptInput,
): Promise<Answer<RecordedShown>> =>
  ask(`/api/sales/${settings.saleId}/receipts`, {
    method: "POST",
    headers: { "content-type": "application/json", "x-form-token": settings.formToken },
    body: JSON.stringify(receipt),
  });

async function ask<T>(path: string, init: RequestInit): Promise<Answer<T>> {
  try {
    const response = await fetch(path, { ...init, signal: AbortSignal.timeout(patience) });
    if (response.status >= 500) return { kind: "no-answer" };
    const body: unknown = await response.json();
    if (response.ok) return { kind: "done", value: body as T };
    return { kind: "refused", status: response.status, refusal: body as Refusal };
  } catch {
    return { kind: "no-answer" };
  }
}
