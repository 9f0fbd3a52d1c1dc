import { startCustomerView } from "./till/sell/customer-view.ts";
import { show } from "./till/sell/dom.ts";
import type { Beginning } from "./till/start/become-till.ts";
import { startPractice } from "./till/start/practice-till.ts";
import { showStopped } from "./till/start/screens.ts";
import { startTill } from "./till/start/start-till.ts";

const asked = new URLSearchParams(location.search);

/** One page, opened in three ways: as the till, for practice, and as the window for the customer. */
function open(): Promise<void> | void {
  if (asked.get("view") === "customer") {
    show("starting", false);
    return startCustomerView();
  }
  if (!isSecureContext) return showStopped(notSecure);
  return asked.has("practice") ? startPractice() : startTill(beginning());
}

/** `another` makes the device a till anew; `again` lets a till back in that the server does not know. */
const beginning = (): Beginning =>
  asked.has("another") ? "another" : asked.has("again") ? "again" : "usual";

const notSecure =
  "A till needs an address that begins with https, or the server on this very device. Ask whoever set the server up.";

await Promise.resolve(open()).catch((error: unknown) => {
  showStopped(
    "Something went wrong while the till opened. What was recorded is kept. Load the page again.",
  );
  throw error;
});
