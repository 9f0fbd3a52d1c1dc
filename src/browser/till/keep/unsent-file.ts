import type { TillSceneShown } from "../../../contract/till-device.ts";
import type { OutboxEntry } from "../../../contract/till-fact.ts";
import type { UnsentFile } from "../../../contract/unsent-file.ts";

/** Everything unsent as a text that the treasurer can bring to the server on a stick. */
export async function unsentFile(
  { id, number, name }: TillSceneShown["till"],
  unsent: OutboxEntry[],
  now: Date,
): Promise<{ name: string; text: string }> {
  const entries = JSON.stringify(unsent);
  const file: UnsentFile = {
    format: "thrumbook-unsent",
    version: 1,
    till: { id, number, name },
    savedAt: now.toISOString(),
    entries,
    sha256: await sha256(entries),
  };
  const time = now.toISOString().slice(0, 16).replace(/[:T]/g, "-");
  return { name: `till-${number}-unsent-${time}.json`, text: JSON.stringify(file, null, 1) };
}

async function sha256(text: string): Promise<string> {
  const hash = await crypto.subtle.digest("SHA-256", new TextEncoder().encode(text));
  return [...new Uint8Array(hash)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
}
