import type { Carry } from "./carry.ts";
import type { Shelf, Typed } from "./shelf.ts";

interface LeftBehind {
  owner: string;
  shelf: Shelf;
  carry: Carry;
  newId: () => string;
  /** What this page goes on with itself. */
  except?: string;
}

/**
 * Looks through what this device kept of a member's typing when a page opens: sends what the server
 * has not got, and forgets what was entered or discarded meanwhile. Without a connection all of it
 * stays. Says whether the server learned of something.
 */
export async function sendLeftBehind({
  owner,
  shelf,
  carry,
  newId,
  except = "",
}: LeftBehind): Promise<boolean> {
  const kept = (await shelf.of(owner)).filter(({ id }) => id !== except);
  if (kept.length === 0) return false;
  const listed = await carry.list();
  if (listed.kind !== "answer") return false;
  const there = new Map(listed.body.items.map(({ id, version }) => [id, version]));
  let news = false;
  for (const typed of kept) {
    if (typed.sent) {
      if (typed.aside || there.get(typed.id) !== typed.version) await shelf.drop(typed.id);
    } else if (await sendOne(typed, shelf, carry, newId)) news = true;
  }
  return news;
}

async function sendOne(
  typed: Typed,
  shelf: Shelf,
  carry: Carry,
  newId: () => string,
): Promise<boolean> {
  const answer = await carry.send(typed);
  if (answer.kind === "refused" && answer.code === "not-found" && typed.version > 0) {
    // Its draft was entered or discarded elsewhere; what was typed here since is still wanted.
    const fresh = { ...typed, id: newId(), version: 0 };
    await shelf.put(fresh);
    await shelf.drop(typed.id);
    return sendOne(fresh, shelf, carry, newId);
  }
  if (answer.kind !== "answer") return false;
  const { id, version } = answer.body;
  await shelf.drop(typed.id);
  if (!typed.aside) await shelf.put({ ...typed, id, version, sent: true });
  return true;
}

/** The newest of what was typed at this place and not entered; nothing that was put aside. */
export async function offerFor(
  { owner, place }: Pick<Typed, "owner" | "place">,
  shelf: Shelf,
): Promise<Typed | undefined> {
  const found = (await shelf.of(owner)).filter((one) => one.place === place && !one.aside);
  return found.sort((a, b) => (a.typedAt < b.typedAt ? 1 : -1))[0];
}
