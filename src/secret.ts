import { randomBytes } from "node:crypto";
import { mkdir, readFile, writeFile } from "node:fs/promises";
import { join } from "node:path";
import type { Settings } from "./settings.ts";

/** The key that signs sessions: from the settings, or made once and kept beside the data. */
export async function signingSecret(settings: Settings): Promise<string> {
  if (settings.secret) return settings.secret;
  const file = join(settings.dataDir, "secret");
  await mkdir(settings.dataDir, { recursive: true });
  // "wx" writes only a file that is not there yet: an existing secret stays.
  await writeFile(file, randomBytes(48).toString("base64url"), { mode: 0o600, flag: "wx" }).catch(
    () => undefined,
  );
  return (await readFile(file, "utf8")).trim();
}
