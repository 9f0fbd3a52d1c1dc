import { type DraftRead, draftsOf, findDraft } from "../../database/drafts.ts";
import { notFound } from "../../plugins/errors.ts";
import type { Request } from "../../plugins/types.ts";
import { momentText } from "../../rules/moment.ts";
import { isId } from "../want-id.ts";
import { type Fields, textOf } from "./fields.ts";
import type { GuildWords } from "./words.ts";

/** What a draft puts into the fields of its form. */
export async function draftValues(request: Request, query: Fields): Promise<Fields | undefined> {
  const id = textOf(query, "draft");
  if (id === "") return undefined;
  const { db } = request.server.parts;
  const draft = isId(id) ? await findDraft(db, request.who().id, id) : undefined;
  if (!draft) throw notFound("this draft: it was entered or discarded");
  const { fields, saleId, version } = draft;
  return { ...fields, sale: saleId, draft: id, draftVersion: String(version) };
}

/** The drafts of a person as rows of a list: what was typed, when, and where to go on. */
export async function draftRows(request: Request, guild: GuildWords) {
  const drafts = await draftsOf(request.server.parts.db, request.who().id);
  return drafts.map((draft) => ({
    words: wordsOf(draft),
    sale: draft.saleName,
    when: momentText(draft.typedAt, guild.locale, guild.timeZone),
    href: `/items/${draft.form === "many" ? "many" : "new"}?draft=${draft.id}`,
    discardAction: `/items/drafts/${draft.id}/discard`,
  }));
}

function wordsOf({ fields, form }: DraftRead): string {
  const member = textOf(fields, "member");
  const what = textOf(fields, "description") || textOf(fields, "colours") || "no description yet";
  const words = form === "many" ? `Several pieces: ${what}` : what;
  return (member ? `${words}, for member ${member}` : words).slice(0, 120);
}

/** The draft that a form goes on from, so that entering it takes the draft away. */
export const draftIdOf = (body: Fields): string | undefined => {
  const id = textOf(body, "draft");
  return isId(id) ? id : undefined;
};

/** What a form of an entry needs so that its script can keep it: whose it is and where it goes. */
export const draftForm = (request: Request, values: Fields, refused: boolean) => ({
  owner: request.who().id,
  // Refused or opened from a draft, the form shows what was typed; nothing older is offered then.
  shown: refused || draftIdOf(values) !== undefined,
});
