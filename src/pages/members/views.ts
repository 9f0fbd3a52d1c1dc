import type { MemberRead } from "../../database/members.ts";
import type { Actor } from "../../database/perform.ts";
import type { Problem } from "../../rules/problem.ts";
import { roleChoices, statusChoices, valuesOf } from "./form.ts";

interface Search {
  q: string;
  status: string | undefined;
  next: string | undefined;
}

export function listPage(actor: Actor, members: MemberRead[], search: Search) {
  const isChair = actor.roles.includes("chair");
  return {
    title: "Members",
    isChair,
    q: search.q,
    searched: search.q !== "" || search.status !== undefined,
    next: search.next,
    filters: [
      { href: "/members", label: "All", current: search.status === undefined },
      { href: "/members?status=active", label: "Active", current: search.status === "active" },
      { href: "/members?status=resting", label: "Resting", current: search.status === "resting" },
    ],
    members: members.map((member) => ({
      ...member,
      href: `/members/${member.id}`,
      rolesText: member.roles.join(", "),
      state: stateOf(member),
    })),
  };
}

/** Whether the person can sign in, in a word and a colour. */
function stateOf(member: MemberRead): { text: string; kind: string; icon: string } {
  if (member.status === "resting") return { text: "Resting", kind: "plain", icon: "closed" };
  if (member.joined) return { text: "Active", kind: "good", icon: "check" };
  return { text: "Not joined yet", kind: "wait", icon: "clock" };
}

export function memberPage(
  actor: Actor,
  member: MemberRead,
  values: unknown = valuesOf(member),
  problem?: Problem,
) {
  return {
    title: member.name,
    member,
    isChair: actor.roles.includes("chair"),
    mayLink: member.status === "active",
    state: stateOf(member),
    roles: roleChoices,
    statuses: statusChoices,
    facts: [
      { label: "Member number", value: String(member.number) },
      { label: "E-mail", value: member.email ?? "none" },
      { label: "Phone", value: member.phone || "none" },
      { label: "Roles", value: member.roles.join(", ") },
    ],
    values,
    problem,
  };
}

/** A letter with the link, opened in the chair's own mail program. */
const letter = (email: string, name: string, link: string): string => {
  const subject = encodeURIComponent("Your link to sign in");
  const body = encodeURIComponent(
    `Hello ${name},\n\nchoose your pass phrase with this link. It works once:\n\n${link}\n`,
  );
  return `mailto:${encodeURIComponent(email)}?subject=${subject}&body=${body}`;
};

export const linkPage = (member: MemberRead, made?: { href: string; purpose: string }) => ({
  title: `A link for ${member.name}`,
  member,
  mayLink: member.status === "active",
  backHref: `/members/${member.id}`,
  action: `/members/${member.id}/link`,
  made,
  mailHref: made && member.email ? letter(member.email, member.name, made.href) : "",
  lasts: made?.purpose === "reset" ? "24 hours" : "14 days",
});
