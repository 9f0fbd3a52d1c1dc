import type { App } from "../plugins/types.ts";
import { accountPages } from "./account/routes.ts";
import { homePages } from "./home/routes.ts";
import { referencePages } from "./reference/routes.ts";
import { setUpPages } from "./set-up/routes.ts";
import { signInPages } from "./sign-in/routes.ts";

/** Every place of the site, in the order of the work. */
export async function pages(app: App): Promise<void> {
  await app.register(signInPages);
  await app.register(setUpPages);
  await app.register(accountPages);
  await app.register(homePages);
  await app.register(referencePages);
}
