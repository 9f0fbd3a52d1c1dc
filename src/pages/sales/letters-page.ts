import {
  countLetters,
  countWithoutAddress,
  type LetterRow,
  listLetters,
  listToPhone,
} from "../../database/letters/sale-letters.ts";
import { sendsLetters } from "../../plugins/sends-letters.ts";
import type { Request } from "../../plugins/types.ts";
import { letterKinds, letterStates } from "../../rules/letters/kinds.ts";
import { momentText } from "../../rules/moment.ts";
import type { Problem } from "../../rules/problem.ts";
import { allows } from "../../rules/sale-stage.ts";
import { numberAfter } from "../books/scene.ts";
import type { Region } from "../format.ts";
import { kindWords, letterStateWords } from "../letters/words.ts";
import { cursorOf, nextHref, searchOf } from "../want-id.ts";
import { guildOf, saleOf } from "./sale-of.ts";

const pageLength = 50;

/** Everything about the letters of a sale on one page. */
export async function lettersPage(request: Request, problem?: Problem) {
  const { db, settings } = request.server.parts;
  const query = request.query as { q?: string; after?: string; kind?: string; state?: string };
  const sale = await saleOf(request, (request.params as { id: string }).id);
  const guild = await guildOf(request);
  const path = `/sales/${sale.id}/letters`;
  const q = searchOf(query.q);
  const kind = letterKinds.find((one) => one === query.kind);
  const state = letterStates.find((one) => one === query.state);
  const search = { q, kind, state, after: cursorOf(query.after), limit: pageLength };
  const { items, next } = await listLetters(db, sale.id, search);
  const counts = await countLetters(db, sale.id);
  const { reminderDays } = await db.sale.findUniqueOrThrow({ where: { id: sale.id } });
  return {
    ...{ title: "Letters to members", sale, path, problem, q, kind, state },
    noMail: !sendsLetters(settings),
    mayChange: allows(sale.stage, "edit-sale"),
    values: problem ? request.body : { days: reminderDays.join(", "), version: sale.version },
    withoutAddress: await countWithoutAddress(db),
    any: counts.length > 0,
    rows: countRows(counts, path),
    letters: items.map((letter) => ({
      ...letter,
      href: `${path}/${letter.id}`,
      kindName: kindWords[letter.kind].name,
      badge: letterStateWords[letter.state],
      words: letterWords(letter, guild),
    })),
    filtered: q !== "" || kind !== undefined || state !== undefined,
    filter: [kind && kindWords[kind].name, state && letterStateWords[state].text.toLowerCase()]
      .filter(Boolean)
      .join(", "),
    next: nextHref(path, next, { q, kind: kind ?? "", state: state ?? "" }),
  };
}

type Counts = Awaited<ReturnType<typeof countLetters>>;

/** One row for each kind: how many letters are at each state, each number leading to them. */
const countRows = (counts: Counts, path: string) =>
  letterKinds.map((kind) => ({
    name: kindWords[kind].name,
    cells: letterStates.map((state) => {
      const count = counts.find((one) => one.kind === kind && one.state === state)?.count ?? 0;
      const label = letterStateWords[state].text;
      return { label, count, href: count > 0 ? `${path}?kind=${kind}&state=${state}` : "" };
    }),
  }));

/** What became of a letter and when. */
export function letterWords(
  { state, tries, lastError, note, nextAt, endedAt }: LetterRow,
  { locale, timeZone }: Region,
): string {
  const at = (moment: Date | null) => (moment ? momentText(moment, locale, timeZone) : "");
  switch (state) {
    case "waiting":
      return lastError === ""
        ? `Goes out on ${at(nextAt)}.`
        : `${lastError}. Tried ${tries === 1 ? "once" : `${tries} times`}, the next time at ${at(nextAt)}.`;
    case "sent":
      return `The mail server took it on ${at(endedAt)}.`;
    case "failed":
      return `${lastError}. Given up on ${at(endedAt)}.`;
    case "skipped":
      return `${lastError}.`;
    case "returned":
      return `Sent on ${at(endedAt)}, and it came back: ${note}`;
  }
}

const whyWords = {
  "no-address": "No e-mail address",
  failed: "The last letter was not sent",
  returned: "The last letter came back",
};

/** Whom no letter reaches, with their telephone numbers. */
export async function phonePage(request: Request) {
  const { db } = request.server.parts;
  const query = request.query as { q?: string; after?: string };
  const sale = await saleOf(request, (request.params as { id: string }).id);
  const path = `/sales/${sale.id}/letters/phone`;
  const q = searchOf(query.q);
  const page = { q, after: numberAfter(query.after), limit: pageLength };
  const { items, next } = await listToPhone(db, sale.id, page);
  return {
    ...{ title: "Whom to phone", sale, path, q },
    members: items.map((member) => ({
      ...member,
      why: whyWords[member.why],
      phoneHref: member.phone === "" ? "" : `tel:${member.phone.replace(/[^\d+]/g, "")}`,
    })),
    next: nextHref(path, next === null ? null : String(next), { q }),
  };
}
