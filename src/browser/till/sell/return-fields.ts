import { type TenderKind, tenderKinds, tenderWords } from "../../../rules/tender.ts";
import { make } from "./dom.ts";
import type { ReturnDraft } from "./return-state.ts";

type Change = (next: ReturnDraft) => void;

/** Whether the pieces can be sold again today, or go home with their weaver. */
export function choices(draft: ReturnDraft, change: Change): HTMLElement {
  const places = { floor: "Back to the floor, to be sold again", member: "Home with its weaver" };
  const all = Object.entries(places).map(([place, words]) => {
    const input = make("input", "");
    Object.assign(input, { type: "radio", name: "goes-to", id: `goes-to-${place}` });
    input.checked = draft.goesTo === place;
    input.addEventListener("change", () =>
      change({ ...draft, goesTo: place === "member" ? "member" : "floor" }),
    );
    const label = make("label", "", words);
    label.htmlFor = input.id;
    return make("div", "choice", input, label);
  });
  return make("fieldset", "field", make("legend", "", "Where do the pieces go?"), ...all);
}

export function reasonField(draft: ReturnDraft, typed: (reason: string) => void): HTMLElement {
  const input = make("input", "");
  Object.assign(input, { id: "return-reason", maxLength: 120, autocomplete: "off" });
  input.value = draft.reason;
  input.addEventListener("input", () => typed(input.value));
  const label = make("label", "", "Why does it come back?");
  label.htmlFor = input.id;
  return make("div", "field", label, input);
}

/** Suggests the way it was paid; a card goes back on the terminal, never by its number. */
export function waySelect(draft: ReturnDraft, change: Change): HTMLElement {
  const select = make("select", "");
  select.id = "return-way";
  select.append(
    ...tenderKinds.map((kind) => {
      const option = make("option", "", tenderWords[kind]);
      option.value = kind;
      option.selected = kind === draft.way;
      return option;
    }),
  );
  select.addEventListener("change", () => change({ ...draft, way: select.value as TenderKind }));
  const label = make("label", "", "How does the money go back?");
  label.htmlFor = select.id;
  return make("div", "field", label, select);
}
