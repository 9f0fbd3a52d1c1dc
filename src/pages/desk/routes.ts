import type { App } from "../../plugins/types.ts";
import { deskItemPages } from "./item-routes.ts";
import { deskMemberPages } from "./member-routes.ts";
import { scanPages } from "./scan-routes.ts";

/** The desk: where pieces come in, are turned away, and go home again. */
export async function deskPages(app: App): Promise<void> {
  await app.register(scanPages);
  await app.register(deskItemPages);
  await app.register(deskMemberPages);
}
