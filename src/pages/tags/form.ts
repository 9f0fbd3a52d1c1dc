import { type PrintInput, printShape } from "../../contract/prints.ts";
import type { Result } from "../../rules/problem.ts";
import { type Fields, textOf, ticked } from "../items/fields.ts";
import { readForm } from "../read-form.ts";

/** Reads how labels go onto paper. What cannot be read as a number is named by the shape. */
export function readPrint(body: Fields): Result<PrintInput> {
  const number = (text: string) => (/^\d{1,6}$/.test(text) ? Number(text) : text);
  const start = textOf(body, "start");
  return readForm(printShape, {
    what: textOf(body, "what") || "tag",
    which: textOf(body, "which") || "new",
    stock: textOf(body, "stock"),
    ...(start === "" ? {} : { start: number(start) }),
    skip: placesIn(textOf(body, "skip")),
    code: textOf(body, "code") || "bars",
    each: ticked(body, "each"),
    second: ticked(body, "second"),
    printer: textOf(body, "printer") || null,
  });
}

/** "3, 7-9" is 3, 7, 8 and 9. What is no list of numbers is passed on, to be named as such. */
export function placesIn(text: string): (number | string)[] {
  return text
    .split(/[\s,;]+/)
    .filter(Boolean)
    .flatMap((part): (number | string)[] => {
      const [, from, to] = /^(\d{1,3})(?:[-–](\d{1,3}))?$/.exec(part) ?? [];
      if (from === undefined) return [part];
      const first = Number(from);
      const last = Number(to ?? from);
      return last < first ? [part] : Array.from({ length: last - first + 1 }, (_, n) => first + n);
    });
}
