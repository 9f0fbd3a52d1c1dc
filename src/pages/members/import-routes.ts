import multipart from "@fastify/multipart";
import { z } from "zod";
import { importMembers, previewMembers } from "../../actions/import-members.ts";
import { type ListPreview, memberListShape } from "../../contract/member.ts";
import type { App } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { listText } from "../list-text.ts";
import { readForm } from "../read-form.ts";

const chair = { config: { access: ["chair"] as const } };
const sentForm = z.strictObject({ text: z.string().default(""), file: z.unknown().optional() });

/** More rows than this make a page that a phone cannot show; the rest is counted. */
const mostShown = 200;

/**
 * A spreadsheet of a thousand members is far smaller. Only these pages take files at all: what is
 * read in parts is held in memory, and nobody else's request may fill that.
 */
const limits = { fileSize: 2_000_000, files: 1, fields: 10, fieldSize: 1_100_000, parts: 12 };

/** Many members at once: first a look at every row, then the good ones are added. */
export async function importPages(app: App): Promise<void> {
  await app.register(multipart, { attachFieldsToBody: "keyValues", limits });

  app.get("/members/import", chair, async (_request, reply) =>
    reply.page("members/import", startPage()),
  );

  app.post("/members/import", chair, async (request, reply) => {
    const sent = readForm(sentForm, request.body);
    const text = sent.ok ? listText(sent.value.file) || sent.value.text : "";
    const read = readForm(memberListShape, { text });
    const preview = read.ok ? await previewMembers(app.parts.db, read.value.text) : read;
    if (!preview.ok)
      return reply.page(
        "members/import",
        startPage({ text }, preview.problem),
        preview.problem.status,
      );
    return reply.page("members/preview", previewPage(preview.value, text));
  });

  app.post("/members/import/apply", chair, async (request, reply) => {
    const read = readForm(memberListShape, request.body);
    const done = read.ok ? await importMembers(request.deed(), read.value.text) : read;
    if (!done.ok)
      return reply.page(
        "members/import",
        startPage(request.body, done.problem),
        done.problem.status,
      );
    const { added, skipped } = done.value;
    return reply.seeOther("/members", { kind: "good", text: addedWords(added, skipped) });
  });
}

function addedWords(added: { number: number }[], skipped: number): string {
  const [first, last] = [added[0]?.number, added.at(-1)?.number];
  const came =
    added.length === 1
      ? `1 member is added, with the number ${first}.`
      : `${added.length} members are added, with the numbers ${first} to ${last}.`;
  const left =
    skipped === 0 ? "" : skipped === 1 ? " 1 row was left out." : ` ${skipped} rows were left out.`;
  return `${came}${left} Each new member needs a link to sign in: open their page and make one.`;
}

const startPage = (values?: unknown, problem?: Problem) => ({
  title: "Add many members",
  values,
  problem,
});

function previewPage(preview: ListPreview, text: string) {
  const bad = preview.rows.filter((row) => row.problems.length > 0);
  const good = preview.rows.filter((row) => row.problems.length === 0);
  return {
    title: "Check the list",
    values: { text },
    goodCount: preview.good,
    addLabel: preview.good === 1 ? "Add 1 member" : `Add ${preview.good} members`,
    badCount: preview.bad,
    ignored: preview.ignored.join(", "),
    bad: bad.slice(0, mostShown).map((row) => ({ ...row, why: row.problems.join(". ") })),
    moreBad: Math.max(0, bad.length - mostShown),
    good: good.slice(0, mostShown).map((row) => ({ ...row, rolesText: row.roles.join(", ") })),
    moreGood: Math.max(0, good.length - mostShown),
  };
}
