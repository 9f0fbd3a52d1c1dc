import { draftForms } from "../../contract/draft.ts";
import type { Carry } from "./carry.ts";
import { fillFields, readFields } from "./fields.ts";
import { Keeper, type News, same } from "./keeper.ts";
import { offerFor, sendLeftBehind } from "./left-behind.ts";
import type { Shelf, Typed } from "./shelf.ts";
import { newsWords, notSavedWords, offerWords, putBackWords } from "./words.ts";

const newId = () => crypto.randomUUID();
/** Soon enough that a flat battery costs a word, and late enough not to work at every letter. */
const pause = 400;
const sendAfter = 2_500;
const tryAgain = 15_000;

/** Keeps the form of an entry as it is typed, offers what was left, and never saves into the void. */
export async function keepForm(form: HTMLFormElement, shelf: Shelf, carry: Carry): Promise<void> {
  const language = document.documentElement.lang || "en";
  const part = (name: string) => form.querySelector<HTMLElement>(`[data-draft-${name}]`);
  const field = (name: string) => form.querySelector<HTMLInputElement>(`input[name="${name}"]`);
  const textIn = (name: string) => field(name)?.value ?? "";

  let lastKind = "";
  function say(words: string, kind: string): void {
    const told = part("told");
    told?.setAttribute("data-draft-told", kind === "not-saved" ? "warn" : kind);
    if (told) told.textContent = words;
    // Read out only when something else is the case, and not at every pause in the typing.
    const said = part("said");
    if (said && kind !== lastKind) said.textContent = words;
    lastKind = kind;
  }
  const tell = (news: News) => say(newsWords(news, language), news.kind);

  const kind = draftForms.find((one) => one === textIn("draftForm")) ?? "one";
  const owner = form.dataset.draftOwner ?? "";
  const saleId = textIn("sale");
  const place = { owner, form: kind, saleId, place: `${kind} ${saleId} ${textIn("member")}` };
  const keeper = new Keeper(place, { shelf, carry, tell, now: () => new Date(), newId });
  const untouched = readFields(form);

  const keepNow = async (): Promise<void> => {
    const fields = readFields(form);
    if (keeper.typed || !same(fields, untouched)) await keeper.keep(fields);
  };
  let keeping: ReturnType<typeof setTimeout> | undefined;
  let sending: ReturnType<typeof setTimeout> | undefined;
  const sendSoon = (after: number): void => {
    clearTimeout(sending);
    sending = setTimeout(async () => {
      const answer = await keeper.send();
      const missed = answer !== undefined && answer.kind !== "refused" && !keeper.typed?.sent;
      if (missed) sendSoon(answer.kind === "silent" ? tryAgain : sendAfter);
    }, after);
  };
  const changed = (): void => {
    clearTimeout(keeping);
    keeping = setTimeout(async () => {
      await keepNow();
      sendSoon(sendAfter);
    }, pause);
  };
  form.addEventListener("input", changed);
  form.addEventListener("change", changed);
  addEventListener("online", () => sendSoon(0));
  document.addEventListener("visibilitychange", () => {
    if (document.visibilityState === "hidden") void keepNow();
  });

  /** The draft is at the server before the form goes, so that its entry takes the draft away. */
  async function beforeSaving(): Promise<boolean> {
    clearTimeout(keeping);
    clearTimeout(sending);
    await keeper.keep(readFields(form));
    const answer = await keeper.send();
    if (answer?.kind === "silent") return false;
    const { typed } = keeper;
    if (typed && typed.version > 0) {
      const [id, version] = [field("draft"), field("draftVersion")];
      if (id) id.value = typed.id;
      if (version) version.value = String(typed.version);
    }
    return true;
  }

  let state: "typing" | "asking" | "going" = "typing";
  form.addEventListener("submit", async (event) => {
    if (state === "going") return;
    event.preventDefault();
    if (state === "asking") return;
    state = "asking";
    const button = event.submitter;
    // A browser sends no form while it is still telling about its sending.
    await new Promise((later) => setTimeout(later));
    if (!(await beforeSaving())) {
      state = "typing";
      say(notSavedWords, "not-saved");
      part("told")?.focus();
      sendSoon(tryAgain);
      return;
    }
    // Kept as a draft on purpose, it is found there and no longer offered here.
    if (button?.hasAttribute("formaction") && keeper.typed?.sent) await shelf.drop(keeper.typed.id);
    state = "going";
    form.requestSubmit(button);
  });
  // Shown again from the browser's memory, after going back.
  addEventListener("pageshow", () => {
    state = "typing";
  });

  const goOnWith = (typed: Typed): void => {
    fillFields(form, typed.fields);
    keeper.adopt(typed);
    say(putBackWords(typed, language), "put-back");
    if (!typed.sent) sendSoon(0);
  };

  if (form.hasAttribute("data-draft-shown")) await adoptShown();
  else await offerLeft();

  async function adoptShown(): Promise<void> {
    const id = textIn("draft");
    const kept = id === "" ? undefined : await shelf.get(id);
    if (kept && !kept.sent && kept.owner === owner) goOnWith(kept);
    else if (id !== "") {
      const version = Number(textIn("draftVersion")) || 0;
      const typedAt = new Date().toISOString();
      keeper.adopt({ id, version, fields: untouched, typedAt, sent: true });
    }
    await sendLeftBehind({ owner, shelf, carry, newId, except: id });
  }

  async function offerLeft(): Promise<void> {
    await sendLeftBehind({ owner, shelf, carry, newId, except: keeper.typed?.id ?? "" });
    const found = await offerFor(place, shelf);
    const offer = part("offer");
    const when = part("when");
    if (!offer || !when || !found || found.id === keeper.typed?.id) return;
    when.textContent = offerWords(found, language);
    offer.hidden = false;
    part("go-on")?.addEventListener("click", () => {
      offer.hidden = true;
      goOnWith(found);
      form.querySelector<HTMLElement>("select, input:not([type=hidden])")?.focus();
    });
    part("start-empty")?.addEventListener("click", async () => {
      offer.hidden = true;
      if (found.sent) await shelf.drop(found.id);
      else await shelf.put({ ...found, aside: true });
      form.querySelector<HTMLElement>("select, input:not([type=hidden])")?.focus();
    });
  }
}
