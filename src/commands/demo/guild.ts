import { randomInt } from "node:crypto";
import { addMember } from "../../actions/add-member.ts";
import { choosePassphrase, offerLink } from "../../actions/one-use-links.ts";
import { setPin } from "../../actions/set-pin.ts";
import { offerSetUp, setUpGuild } from "../../actions/set-up-guild.ts";
import type { Database } from "../../database/client.ts";
import type { Actor, Deed } from "../../database/perform.ts";
import { checkPin } from "../../rules/pin.ts";
import type { Result } from "../../rules/problem.ts";
import { hasAny, type Role } from "../../rules/roles.ts";
import type { Dice } from "./dice.ts";
import { guild, people } from "./people.ts";

export interface SignIn {
  role: Role;
  number: number;
  passphrase: string;
}

/** Somebody who may take a till over. */
export interface Seller {
  name: string;
  pin: string;
}

export interface Cast {
  members: Actor[];
  /** Acts as one of them. */
  as(actor: Actor): Deed;
  the(role: Role, which?: number): Actor;
  signIns: SignIn[];
  sellers: Seller[];
}

/** The demo knows no refusals: one would mean that it asked for something wrong. */
export function must<T>(result: Result<T>): T {
  if (result.ok) return result.value;
  throw new Error(
    `${result.problem.title}: ${result.problem.detail} ${JSON.stringify(result.problem.errors)}`,
  );
}

/** Sets the guild up by its one-use link, as the chair would, and adds the members. */
export async function foundGuild(db: Database, dice: Dice): Promise<Cast> {
  const [chair, ...rest] = people(dice);
  if (!chair) throw new Error("A guild needs somebody.");
  const passphrase = newPassphrase();
  const token = (await offerSetUp(db)) ?? "";
  const person = { name: chair.name, email: chair.email, passphrase };
  const terms = { tagLength: 8 as const, paper: "letter" as const, showMemberName: false };
  must(
    await setUpGuild(db, {
      token,
      guild: { ...guild, ...terms },
      chair: person,
      requestId: "demo",
    }),
  );
  const first = await actorOf(db, chair.email);
  const as = (actor: Actor): Deed => ({ db, actor, requestId: "demo" });
  for (const { name, email, phone, roles } of rest)
    must(await addMember(as(first), { name, email, phone, roles }));
  const rows = await db.member.findMany({ orderBy: { number: "asc" } });
  const members = rows.map(({ id, number, name, roles }) => ({
    id,
    number,
    name,
    roles: roles as Role[],
  }));
  const the = (role: Role, which = 0): Actor => {
    const holders = members.filter((member) =>
      role === "member" ? member.roles.length === 1 : member.roles.includes(role),
    );
    const found = holders[which];
    if (!found) throw new Error(`Nobody holds the role ${role}.`);
    return found;
  };
  const signIns = [{ role: "chair" as Role, number: first.number, passphrase }];
  for (const role of ["treasurer", "desk", "cashier", "member"] as const)
    signIns.push(await giveSignIn(db, as(first), the(role), role));
  const sellers: Seller[] = [];
  for (const member of members.filter(({ roles }) => hasAny(roles, ["cashier", "chair"])))
    sellers.push(await givePin(as(member), member.name));
  return { members, as, the, signIns, sellers };
}

async function givePin(deed: Deed, name: string): Promise<Seller> {
  const pin = newPin();
  must(await setPin(deed, pin));
  return { name, pin };
}

async function giveSignIn(db: Database, deed: Deed, member: Actor, role: Role): Promise<SignIn> {
  const { token } = must(await offerLink(deed, member.id));
  const passphrase = newPassphrase();
  must(await choosePassphrase(db, { token, passphrase, requestId: "demo" }));
  return { role, number: member.number, passphrase };
}

async function actorOf(db: Database, email: string): Promise<Actor> {
  const { id, number, name, roles } = await db.member.findUniqueOrThrow({ where: { email } });
  return { id, number, name, roles: roles as Role[] };
}

const words =
  "apron basket candle drawer ember fiddle garden harvest island jacket kettle lantern meadow napkin orchard pebble quilt ribbon saddle teapot umbrella velvet window yellow thimble bonnet clover dapple feather ginger hollow juniper".split(
    " ",
  );

/** Drawn anew for every demo, so that no two have the same key to the door. */
function newPassphrase(): string {
  const chosen = new Set<string>();
  while (chosen.size < 4) chosen.add(words[randomInt(words.length)] ?? "");
  return [...chosen].join(" ");
}

function newPin(): string {
  const pin = String(randomInt(10_000)).padStart(4, "0");
  return checkPin(pin).length === 0 ? pin : newPin();
}
