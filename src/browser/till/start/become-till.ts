import type { TillSceneShown } from "../../../contract/till-device.ts";
import type { Ask } from "../carry/server.ts";
import { askForCode } from "./enrol-form.ts";
import type { Kept } from "./open-parts.ts";
import { showStopped } from "./screens.ts";

const nextTry = 3_000;

/**
 * Waits until the server says which till this device is: it may know it already, by the cookie. The
 * first start is the only one that needs the server. `anew` asks for a code in any case.
 */
export async function becomeTill({ shelf, scene }: Kept, ask: Ask, anew: boolean): Promise<void> {
  if (anew) await enrolled(shelf, ask);
  for (;;) {
    const reply = await ask("/api/till/scene");
    if (reply.kind === "answer") return scene.keep(reply.body as TillSceneShown);
    if (reply.kind === "refused") {
      await enrolled(shelf, ask);
      continue;
    }
    showStopped(
      "The server does not answer. This device needs it once, to become a till; it tries again by itself.",
    );
    await new Promise((next) => setTimeout(next, nextTry));
  }
}

const enrolled = (shelf: Kept["shelf"], ask: Ask): Promise<void> =>
  new Promise((done) => askForCode(shelf, ask, done));
