import type { App } from "../../plugins/types.ts";
import { deskItemPages } from "./item-routes.ts";
import { deskMemberPages } from "./member-routes.ts";
import { missingPages } from "./missing-routes.ts";
import { scanPages } from "./scan-routes.ts";

/** The desk: where pieces come in, are turned away, go home again, and are accounted for. */
export async function deskPages(app: App): Promise<void> {
  await app.register(scanPages);
  await app.register(deskItemPages);
  await app.register(deskMemberPages);
  await app.register(missingPages);
}
