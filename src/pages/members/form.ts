import { z } from "zod";
import {
  memberEmail,
  memberName,
  memberPhone,
  memberRoles,
  memberStatus,
} from "../../contract/member.ts";
import { versionNumber } from "../../contract/version.ts";
import type { MemberRead } from "../../database/members.ts";
import type { Role } from "../../rules/roles.ts";

/** One ticked box arrives as a text, several as a list, none not at all. */
const ticked = z.preprocess((value) => (value === undefined ? [] : [value].flat()), memberRoles);

/** An empty e-mail field means that the person has none. */
const email = z.union([z.literal("").transform(() => null), memberEmail], {
  error: "Write the e-mail like name@example.org",
});

export const newMemberForm = z.strictObject({
  name: memberName,
  email,
  phone: memberPhone,
  roles: ticked,
});

export const editMemberForm = newMemberForm.extend({
  status: memberStatus,
  version: z.coerce.number().pipe(versionNumber),
});

const roleHints: Record<Role, string> = {
  member: "Enters items and sees what sold.",
  cashier: "Rings up sales at a till.",
  desk: "Checks goods in and out.",
  treasurer: "Settles, pays out and sees the books.",
  chair: "Plans sales, looks after members and settings.",
};

export const roleChoices = Object.entries(roleHints).map(([value, hint]) => ({
  value,
  label: value.charAt(0).toUpperCase() + value.slice(1),
  hint,
}));

export const statusChoices = [
  { value: "active", label: "Active" },
  { value: "resting", label: "Resting", hint: "Cannot sign in. Items and figures stay." },
];

export const valuesOf = (member: MemberRead) => ({
  ...member,
  email: member.email ?? "",
  version: String(member.version),
});
