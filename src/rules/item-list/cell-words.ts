import { ok, type Result, refuseField } from "../problem.ts";

const yes = new Set(["yes", "y", "x", "true", "1", "✓", "✔"]);
const no = new Set(["", "no", "n", "false", "0", "-", "–"]);

export function readYesNo(text: string, field: string): Result<boolean> {
  const word = text.trim().toLowerCase();
  if (yes.has(word)) return ok(true);
  return no.has(word) ? ok(false) : refuseField(field, "Write yes or no, or leave it empty.");
}

/** A whole number; an empty cell means one, as most pieces are single. */
export function readWhole(text: string, field: string): Result<number> {
  const plain = text.normalize("NFKC").trim();
  if (plain === "") return ok(1);
  return /^\d{1,6}$/.test(plain)
    ? ok(Number(plain))
    : refuseField(field, "Write a whole number, such as 1.");
}

const keyOf = (text: string): string =>
  text
    .normalize("NFKD")
    .toLowerCase()
    .replace(/[^\p{L}\d]/gu, "");

const forms = (name: string): string[] =>
  [name, ...name.split(/\s+or\s+/i)].flatMap((one) => {
    const key = keyOf(one);
    return [key, key.replace(/s$/, ""), `${key}s`];
  });

/**
 * The code of the kind that a cell names: by name or code, in singular or plural, and "Wrap" for
 * "Shawl or wrap". A word that would mean two kinds means neither.
 */
export function readKind(
  text: string,
  kinds: readonly { code: string; name: string }[],
): string | undefined {
  const wanted = keyOf(text);
  const exact = kinds.find(({ code, name }) => [keyOf(code), keyOf(name)].includes(wanted));
  if (exact || wanted === "") return exact?.code;
  const found = kinds.filter(({ code, name }) => [...forms(name), ...forms(code)].includes(wanted));
  return found.length === 1 ? found[0]?.code : undefined;
}
