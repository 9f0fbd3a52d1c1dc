import { signedIn, startApp } from "./app.ts";
import { buildGuild, buildMember, buildSale } from "./build.ts";
import { early } from "./build-items.ts";

/** A guild with one member signed in, and a sale that takes entries at the time of the app. */
export async function startAtEntry() {
  const base = await startApp();
  await buildGuild(base.db);
  const member = await buildMember(base.db);
  const own = await signedIn(base, member);
  const sale = await buildSale(base.db);
  base.at(early);
  return { base, member, own, sale };
}

export type Member = Awaited<ReturnType<typeof buildMember>>;
