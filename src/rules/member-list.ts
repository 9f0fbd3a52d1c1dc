import { isRole, type Role } from "./roles.ts";

/** The columns that a list of members may have. */
export type MemberColumn = "name" | "firstName" | "lastName" | "email" | "phone" | "roles";

/** The most rows of one list: several times the largest guild we can number. */
export const mostRows = 2_000;

const headers: Record<MemberColumn, readonly string[]> = {
  name: ["name", "fullname", "member", "membername", "weaver"],
  firstName: ["firstname", "givenname", "first"],
  lastName: ["lastname", "surname", "familyname", "last"],
  email: ["email", "emailaddress", "mail"],
  phone: ["phone", "telephone", "phonenumber", "tel", "mobile", "cell"],
  roles: ["roles", "role", "duties", "duty"],
};

const columnOf = new Map(
  Object.entries(headers).flatMap(([column, words]) =>
    words.map((word) => [word, column as MemberColumn] as const),
  ),
);

/** The column that a header word means, whatever its case, spaces and hyphens. */
export const readHeader = (text: string): MemberColumn | undefined =>
  columnOf.get(text.toLowerCase().replace(/[^\p{L}]/gu, ""));

/** The separator of a list: whichever of comma, semicolon and tab its first line has most of. */
export function separatorOf(text: string): "," | ";" | "\t" {
  const first = /^[^\r\n]*/.exec(text)?.[0] ?? "";
  const candidates = [",", ";", "\t"] as const;
  const counts = candidates.map((sign) => first.split(sign).length);
  return candidates[counts.indexOf(Math.max(...counts))] ?? ",";
}

/**
 * Reads "Desk, cashiers" as roles. Nothing written means an ordinary member; a word that is no
 * role comes back as `stranger`.
 */
export function readRoles(text: string): { roles: Role[]; stranger?: string } {
  const words = text
    .toLowerCase()
    .split(/[\s,;/|+&]+/)
    .filter((word) => word !== "" && word !== "and");
  if (words.length === 0) return { roles: ["member"] };
  const found = words.map((word) => (isRole(word) ? word : word.replace(/s$/, "")));
  const stranger = found.find((word) => !isRole(word));
  const known = [...new Set(found.filter(isRole))];
  return stranger === undefined ? { roles: known } : { roles: known, stranger };
}
