import type { TillSceneShown } from "../../../contract/till-device.ts";
import type { Ask } from "../carry/server.ts";
import { askForCode } from "./enrol-form.ts";
import type { Kept } from "./open-parts.ts";
import { showStopped } from "./screens.ts";

const nextTry = 3_000;

/** `another` and `again` ask for a code in any case; `again` keeps the till and all that it has. */
export type Beginning = "usual" | "another" | "again";

/**
 * Waits until the server says which till this device is: it may know it already, by the cookie. The
 * first start is the only one that needs the server.
 */
export async function becomeTill(kept: Kept, ask: Ask, beginning: Beginning): Promise<void> {
  const { scene } = kept;
  if (beginning !== "usual") await enrolled(kept, ask);
  for (;;) {
    const reply = await ask("/api/till/scene");
    if (reply.kind === "answer") return scene.keep(reply.body as TillSceneShown);
    if (reply.kind === "refused") {
      await enrolled(kept, ask);
      continue;
    }
    showStopped(
      "The server does not answer. This device needs it once, to become a till; it tries again by itself.",
    );
    await new Promise((next) => setTimeout(next, nextTry));
  }
}

const enrolled = (kept: Kept, ask: Ask): Promise<void> =>
  new Promise((done) => askForCode(kept, ask, done));
