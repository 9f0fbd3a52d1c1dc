import { fileName } from "../rules/file-name.ts";
import type { LabelContent } from "../rules/labels/label-content.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { labelsOn, stockOf } from "./stock.ts";
import { LabelsDoNotFit, printTags, type TagOptions } from "./tags.ts";
import { tooFullWords } from "./too-full.ts";

/** More than any sale needs in one file, and few enough to be drawn while somebody waits. */
export const mostTags = 10_000;

/** A file of tags with the name it is kept under, or why there is none. */
export async function tagFile(
  tags: readonly LabelContent[],
  { about, ...options }: TagOptions & { about: string },
): Promise<Result<{ name: string; bytes: Uint8Array }>> {
  const labels = labelsOn(stockOf(options.stock));
  const { startAt = 1 } = options;
  if (!Number.isInteger(startAt) || startAt < 1 || startAt > labels)
    return refuseField("start", `This sheet has the labels 1 to ${labels}. Choose one of them.`);
  if (tags.length === 0)
    return refuse(
      "not-found",
      "There is no tag to print: nothing is entered, or all is withdrawn.",
    );
  if (tags.length > mostTags)
    return refuse(
      "limit-reached",
      `These are ${tags.length} tags; one file holds ${mostTags}. Print them member by member.`,
    );
  const bytes = await printTags(tags, options).catch((error: unknown) => tooFull(error));
  if (bytes instanceof LabelsDoNotFit)
    return refuse(
      "label-too-small",
      `Nothing was printed. ${tooFullWords(bytes.labels, tags, options.stock, "tag")}`,
    );
  return ok({ name: fileName(["tags", options.saleName, about], "pdf"), bytes });
}

function tooFull(error: unknown): LabelsDoNotFit {
  if (error instanceof LabelsDoNotFit) return error;
  throw error;
}
