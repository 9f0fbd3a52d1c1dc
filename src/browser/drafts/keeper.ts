import type { DraftFields, KeptDraft } from "../../contract/draft.ts";
import type { Answer, Carry } from "./carry.ts";
import type { Shelf, Typed } from "./shelf.ts";

/** What the line below the form says. */
export type News =
  | { kind: "kept"; at: string; here: boolean }
  | { kind: "sent"; at: string }
  | { kind: "waiting"; at: string; here: boolean }
  | { kind: "beside"; at: string; otherAt: string; newer: boolean }
  | { kind: "full" }
  | { kind: "signed-out" };

export type Place = Pick<Typed, "owner" | "place" | "form" | "saleId">;

export interface KeeperParts {
  shelf: Shelf;
  carry: Carry;
  tell(news: News): void;
  now(): Date;
  newId(): string;
}

/** Keeps one form as it is typed: on this device at once, and at the server when it can be heard. */
export class Keeper {
  /** What this page is typing; undefined until the first word. */
  typed: Typed | undefined;
  private readonly place: Place;
  private readonly parts: KeeperParts;
  private sending: Promise<Answer<KeptDraft>> | undefined;

  constructor(place: Place, parts: KeeperParts) {
    this.place = place;
    this.parts = parts;
  }

  /** Goes on from a draft that the page shows or that was offered. */
  adopt(from: Pick<Typed, "id" | "version" | "fields" | "typedAt" | "sent">): void {
    this.typed = { ...this.place, ...from };
  }

  /** Notes the fields on this device. */
  async keep(fields: DraftFields): Promise<void> {
    const before = this.typed;
    if (before && same(before.fields, fields)) return;
    const typedAt = this.parts.now().toISOString();
    const { id = this.parts.newId(), version = 0 } = before ?? {};
    const typed: Typed = { ...this.place, id, version, fields, typedAt, sent: false };
    this.typed = typed;
    const here = await this.parts.shelf.put(typed);
    this.parts.tell({ kind: "kept", at: typedAt, here });
  }

  /** Sends what the server does not have yet; one at a time, so that versions never cross. */
  async send(): Promise<Answer<KeptDraft> | undefined> {
    while (this.sending) await this.sending;
    const typed = this.typed;
    if (!typed || typed.sent) return undefined;
    this.sending = this.sendOne(typed);
    const answer = await this.sending;
    this.sending = undefined;
    return answer;
  }

  private async sendOne(typed: Typed): Promise<Answer<KeptDraft>> {
    const { carry, shelf, newId, tell } = this.parts;
    // Another tab may have sent what stands on the shelf, and so have moved its version on.
    const shelved = await shelf.get(typed.id);
    const version = Math.max(typed.version, shelved?.version ?? 0);
    const answer = await carry.send({ ...typed, version });
    if (answer.kind === "answer") {
      await this.noteSent(typed, answer.body);
      return answer;
    }
    if (answer.kind === "refused" && answer.code === "not-found" && version > 0) {
      // Entered or discarded somewhere else; what was typed here since is still wanted.
      await shelf.drop(typed.id);
      const fresh = { ...(this.typed ?? typed), id: newId(), version: 0, sent: false };
      this.typed = fresh;
      await shelf.put(fresh);
      return this.sendOne(fresh);
    }
    const here = shelved !== undefined;
    if (answer.kind === "silent") tell({ kind: "waiting", at: typed.typedAt, here });
    else if (answer.code === "limit-reached") tell({ kind: "full" });
    else if (/not-signed-in|form-expired/.test(answer.code)) tell({ kind: "signed-out" });
    return answer;
  }

  private async noteSent(typed: Typed, { id, version, beside }: KeptDraft): Promise<void> {
    const { shelf, tell } = this.parts;
    const current = this.typed ?? typed;
    // More may have been typed while this was on its way; that is sent the next time.
    const noted = { ...current, id, version, sent: current.typedAt === typed.typedAt };
    this.typed = noted;
    if (id !== typed.id) await shelf.drop(typed.id);
    await shelf.put(noted);
    if (beside) {
      const { typedAt: otherAt, newer } = beside;
      tell({ kind: "beside", at: typed.typedAt, otherAt, newer });
    } else if (noted.sent) tell({ kind: "sent", at: typed.typedAt });
  }
}

export const same = (one: DraftFields, other: DraftFields): boolean => text(one) === text(other);

const text = (fields: DraftFields): string =>
  JSON.stringify(Object.entries(fields).sort(([a], [b]) => (a < b ? -1 : 1)));
