import type { DraftFields } from "../../contract/draft.ts";

/** What the page itself puts into a form is no typing. */
const ours = /^_|^(draft|draftVersion|draftForm|sale|go)$/;

/** The fields of a form as they stand, by their names. */
export function readFields(form: HTMLFormElement): DraftFields {
  const fields: DraftFields = {};
  for (const [name, value] of new FormData(form)) {
    if (ours.test(name) || typeof value !== "string") continue;
    const before = fields[name];
    fields[name] = before === undefined ? value : [before, value].flat();
  }
  return fields;
}

/** Puts typed values back, and opens the parts of the form that hold some. */
export function fillFields(form: HTMLFormElement, fields: DraftFields): void {
  for (const field of form.elements) {
    if (field instanceof HTMLInputElement && isBox(field)) {
      field.checked = [fields[field.name] ?? []].flat().includes(field.value);
      if (field.checked && !field.defaultChecked) openAround(field);
    } else if (isTyped(field) && !ours.test(field.name)) {
      const [value = ""] = [fields[field.name] ?? ""].flat();
      if (field.value === value) continue;
      field.value = value;
      openAround(field);
    }
  }
}

const isBox = ({ type }: HTMLInputElement): boolean => type === "checkbox" || type === "radio";

const isTyped = (
  field: Element,
): field is HTMLInputElement | HTMLTextAreaElement | HTMLSelectElement =>
  field instanceof HTMLTextAreaElement ||
  field instanceof HTMLSelectElement ||
  (field instanceof HTMLInputElement && field.type !== "hidden" && field.type !== "file");

function openAround(field: Element): void {
  const around = field.closest("details");
  if (!around) return;
  around.open = true;
  if (around.parentElement) openAround(around.parentElement);
}
