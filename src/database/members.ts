import type { Role } from "../rules/roles.ts";
import type { Database } from "./client.ts";
import { literal } from "./search.ts";

export interface MemberRead {
  id: string;
  number: number;
  name: string;
  email: string | null;
  phone: string;
  status: "active" | "resting";
  roles: Role[];
  joined: boolean;
  hasPin: boolean;
  version: number;
}

interface Row extends Omit<MemberRead, "status" | "roles" | "joined" | "hasPin"> {
  status: string;
  roles: string[];
  passphraseHash: string | null;
  pinHash: string | null;
}

/** The hashes of pass phrase and PIN stay here; only whether there is one goes out. */
const read = ({ passphraseHash, pinHash, status, roles, ...row }: Row): MemberRead => ({
  ...row,
  status: status as MemberRead["status"],
  roles: roles as Role[],
  joined: passphraseHash !== null,
  hasPin: pinHash !== null,
});

const columns = {
  id: true,
  number: true,
  name: true,
  email: true,
  phone: true,
  status: true,
  roles: true,
  version: true,
  passphraseHash: true,
  pinHash: true,
} as const;

export interface MemberSearch {
  q?: string | undefined;
  status?: "active" | "resting" | undefined;
  /** The last number seen. */
  after?: number | undefined;
  limit: number;
}

/** Members in the order of their numbers; finds parts of names and e-mails, and whole numbers. */
export async function listMembers(db: Database, search: MemberSearch) {
  const { q, status, after, limit } = search;
  const rows = await db.member.findMany({
    where: { ...found(q), ...(status ? { status } : {}), number: { gt: after ?? 0 } },
    orderBy: { number: "asc" },
    take: limit + 1,
    select: columns,
  });
  const items = rows.slice(0, limit).map(read);
  return { items, next: rows.length > limit ? String(items.at(-1)?.number) : null };
}

function found(q: string | undefined) {
  if (!q) return {};
  const contains = { contains: literal(q), mode: "insensitive" as const };
  const number = /^\d{3,4}$/.test(q) ? [{ number: Number(q) }] : [];
  return { OR: [{ name: contains }, { email: contains }, ...number] };
}

export async function findMember(db: Database, id: string): Promise<MemberRead | null> {
  const row = await db.member.findUnique({ where: { id }, select: columns });
  return row && read(row);
}
