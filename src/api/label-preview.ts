import type { PreviewInput } from "../contract/label-shown.ts";
import type { Database } from "../database/client.ts";
import type { Actor } from "../database/perform.ts";
import { checkFibres } from "../rules/fibre.ts";
import { checkAnswers } from "../rules/labels/cautions/cautions.ts";
import { wholeDetails } from "../rules/labels/details.ts";
import { groupOf, notTextile } from "../rules/labels/groups.ts";
import { type ItemLabel, itemLabel } from "../rules/labels/item-label.ts";
import { checkLists, contentsOf } from "../rules/labels/label-contents.ts";
import { settingOf } from "../rules/labels/label-setting.ts";
import { checkTypedLabel } from "../rules/labels/typed-label.ts";
import { ok, problem, type Result, refuse } from "../rules/problem.ts";

/** A kind as the label rules know it: a guild's own kind goes by the group it was put in. */
export async function labelKindOf(db: Database, code: string): Promise<string> {
  const own = await db.kind.findUnique({ where: { code } });
  return own?.labelGroup || code;
}

/**
 * Works out a label without keeping anything. Lists that cannot be read are refused like in a
 * form; what the law refuses comes back as an answer with its rule, since that is what was asked.
 */
export async function previewLabel(
  db: Database,
  actor: Actor,
  given: PreviewInput,
): Promise<Result<ItemLabel>> {
  const guild = await db.guild.findFirstOrThrow();
  const member = await db.member.findUniqueOrThrow({ where: { id: actor.id } });
  const jurisdiction = given.jurisdiction ?? guild.jurisdiction;
  const labelLanguages = given.languages ?? (given.jurisdiction ? [] : guild.labelLanguages);
  const setting = settingOf({ ...guild, jurisdiction, labelLanguages }, member);
  if (given.maker) setting.maker = given.maker;
  const kind = given.kind || "other";
  const item = {
    title: given.title,
    kind: await labelKindOf(db, kind),
    fibres: given.fibres,
    label: wholeDetails(given.label),
  };
  const wantsFibres = item.label.yarns.length === 0 && !notTextile.includes(groupOf(item.kind));
  const errors = [
    ...(wantsFibres ? checkFibres(item.fibres) : []),
    ...checkLists(item),
    ...checkAnswers(item.kind, item.label.answers, "label.answers"),
  ];
  const { contents, errors: yarnErrors } = contentsOf(item, setting.pack, setting.languages);
  const faults = errors.length > 0 ? errors : yarnErrors;
  if (faults[0]) return { ok: false, problem: problem("invalid-input", faults[0].message, faults) };
  const unspoken = given.languages?.find((one) => !setting.pack.languages.includes(one));
  if (unspoken)
    return refuse("invalid-input", setting.pack.languageRule.words, [
      { field: "languages", message: setting.pack.languageRule.words },
    ]);
  const label = itemLabel(item, setting);
  const typed = given.typed ? checkTypedLabel(given.typed, contents) : [];
  const refused = typed.map((rule) => ({ ...rule, about: "fibre" as const, field: "typed" }));
  return ok({ ...label, refusals: [...label.refusals, ...refused] });
}
