import type { FibreContents } from "./contents.ts";
import { fibreLabel } from "./fibre-label.ts";
import { countedAs } from "./fibres.ts";
import type { Pack } from "./pack.ts";
import { addRule, houseRule, type Rule } from "./rule.ts";

/**
 * What is wrong with a fibre text somebody typed or brought along, against what the piece holds.
 * A text is accepted only when it equals the lawful one: this is how "Cotton blend", a footnote
 * star or three percent of a fibre that is not there are refused with a reason.
 */
export function checkTypedLabel(text: string, contents: FibreContents): Rule[] {
  const { pack } = contents;
  const lawful = fibreLabel(contents);
  if (lawful.refusals.length > 0) return lawful.refusals;
  const typed = text.trim();
  if (lawful.lines.some((line) => line.text === typed)) return [];
  const refusals: Rule[] = [];
  for (const rule of formFaults(typed, contents)) addRule(refusals, rule);
  addRule(refusals, {
    ...pack.fibre.names,
    words: `By the rules the label reads: ${lawful.lines.map((line) => line.text).join("; ")}.`,
  });
  return refusals;
}

/** Faults that show in the text itself, whatever the piece holds. */
function formFaults(text: string, contents: FibreContents): Rule[] {
  const { pack } = contents;
  const faults: Rule[] = [];
  if (/[*†‡]|"\s*$|\d+\s*\/\s*\d+/.test(text)) faults.push(pack.languageRule);
  const shares = text.split(",").map((piece) => /^\s*(\d+(?:[.,]\d+)?)\s*%\s*(\D+)$/.exec(piece));
  if (!shares.every((share) => share !== null)) {
    faults.push({
      ...pack.fibre.names,
      words: 'Write each fibre as its percentage and its full generic name: "60% Cotton".',
    });
    return faults;
  }
  const total = shares.reduce((sum, share) => sum + thousandths(share[1]!), 0);
  if (total !== 100_000) faults.push(houseRule("The percentages have to make 100."));
  const names = Object.values(pack.words).flatMap((words) => Object.values(words.names));
  const present = namesIn(contents);
  for (const [, , typed = ""] of shares) {
    const name = typed.trim();
    if (/^bamboo$/i.test(name)) faults.push(pack.title.bamboo);
    else if (!names.some((known) => name.startsWith(known))) faults.push(pack.fibre.brand);
    else if (!present.some((known) => name.startsWith(known))) faults.push(absent(name, pack));
  }
  return faults;
}

/** Every name under which the fibres of the piece may stand, lumped ones included. */
function namesIn({ pack, parts }: FibreContents): string[] {
  const codes = parts.flatMap(({ fibres }) =>
    fibres.flatMap(({ fibre }) => [fibre, countedAs(fibre)]),
  );
  const reclaimed = parts.some(({ fibres }) => fibres.some((entry) => entry.reclaimed));
  return Object.values(pack.words).flatMap(({ names, other }) => [
    ...codes.map((code) => names[code]),
    ...(reclaimed ? [names["recycled-wool"], names["unknown-reclaimed"]] : []),
    ...[other.one, other.several],
  ]);
}

const absent = (name: string, { title }: Pack): Rule => ({
  ...title.absent,
  words: `"${name}" is not in the list of fibres. ${title.absent.words}`,
});

function thousandths(number: string): number {
  const [whole = "0", decimals = ""] = number.split(/[.,]/);
  return Number(whole) * 1000 + Number(decimals.slice(0, 3).padEnd(3, "0"));
}
