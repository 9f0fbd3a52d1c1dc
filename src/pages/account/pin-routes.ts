import { setPin } from "../../actions/set-pin.ts";
import { pinShape } from "../../contract/pin.ts";
import type { App } from "../../plugins/types.ts";
import { readForm } from "../read-form.ts";
import { accountPage } from "./account-page.ts";

/** The short number with which a cashier takes over a till. */
export async function pinPages(app: App): Promise<void> {
  const sells = { config: { access: ["cashier", "chair"] as const } };

  app.post("/account/pin", sells, async (request, reply) => {
    const read = readForm(pinShape, request.body);
    const set = read.ok ? await setPin(request.deed(), read.value.pin) : read;
    if (!set.ok)
      return reply.page(
        "account/account",
        await accountPage(request, set.problem),
        set.problem.status,
      );
    return reply.seeOther("/account", {
      kind: "good",
      text: "Your PIN is set. Tills that are on line know it in a moment.",
    });
  });
}
