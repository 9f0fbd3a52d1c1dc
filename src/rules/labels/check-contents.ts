import { bambooFault, brandFault } from "./brand.ts";
import type { FibreContents, FibreEntry, FibrePart, Section } from "./contents.ts";
import { isFibreCode } from "./fibres.ts";
import { groupOf } from "./groups.ts";
import { addRule, houseRule, type Rule } from "./rule.ts";

const fewestPercent = 99_500n;
const mostPercent = 100_500n;

/** Everything in the contents that cannot lawfully or sensibly be printed. */
export function checkContents(contents: FibreContents): Rule[] {
  const refusals: Rule[] = [];
  const refuse = (rule: Rule) => addRule(refusals, rule);
  if (contents.parts.length === 0) refuse(houseRule("Say which fibres the piece is made of."));
  for (const part of contents.parts) for (const rule of checkPart(part, contents)) refuse(rule);
  for (const rule of checkSections(contents)) refuse(rule);
  for (const language of contents.languages ?? [])
    if (!contents.pack.languages.includes(language)) refuse(contents.pack.languageRule);
  if (contents.languages?.length === 0) refuse(contents.pack.languageRule);
  return refusals;
}

function checkPart(part: FibrePart, contents: FibreContents): Rule[] {
  const { fibres, sharesAre } = part;
  if (fibres.length === 0) return [houseRule("Say which fibres the piece is made of.")];
  const refusals = fibres.flatMap((entry) => checkEntry(entry, contents));
  if (refusals.length > 0) return refusals;
  if (fibres.length > 1 && fibres.some(({ fibre }) => fibre === "scraps"))
    return [
      {
        ...contents.pack.fibre.unknown,
        words: "Scraps stand alone on a label. Beside other fibres choose unknown fibres.",
      },
    ];
  const total = fibres.reduce((sum, { share }) => sum + BigInt(share), 0n);
  if (sharesAre === "percent" && (total < fewestPercent || total > mostPercent))
    return [houseRule("The percentages have to make 100. Weigh again, or change one of them.")];
  return [];
}

function checkEntry(entry: FibreEntry, { pack }: FibreContents): Rule[] {
  if (!isFibreCode(entry.fibre))
    return [
      {
        ...pack.fibre.names,
        words: `Choose the generic name of "${String(entry.fibre)}" from the list. ${pack.fibre.brand.words}`,
      },
    ];
  if (!isShare(entry.share))
    return [houseRule("Every fibre needs a weight or percentage above zero.")];
  return [brandFault(entry, pack), bambooFault(entry, pack)].filter((rule) => rule !== null);
}

function isShare(share: number | bigint): boolean {
  return typeof share === "bigint" ? share > 0n : Number.isSafeInteger(share) && share > 0;
}

/** What a piece cannot wholly consist of: the cloth these belong to is missing from the list. */
const neverAlone: readonly Section[] = ["fringe", "lining", "filling", "back"];

/** Several parts each need a name of their own; a face alone is for the goods the law lists. */
function checkSections({ parts, pack, kind }: FibreContents): Rule[] {
  const names = parts.map(({ section }) => section);
  if (parts.length > 1 && (names.includes(undefined) || new Set(names).size < names.length))
    return [{ ...pack.fibre.sections, words: "Say of each part which part it is, and each once." }];
  if (names.length === 1 && names[0] && neverAlone.includes(names[0]))
    return [
      {
        ...pack.fibre.sections,
        words: "Only a part is listed. List the fibres of the rest of the piece too.",
      },
    ];
  const rule = pack.fibre.outerSurface;
  const faceAlone = names.length === 1 && names[0] === "outer-surface";
  if (!faceAlone || rule?.groups.includes(groupOf(kind))) return [];
  return [
    {
      ...(rule ?? pack.fibre.sections),
      words: "Only a rug may be labelled by its face, where the law says so. List every fibre.",
    },
  ];
}
