import { fileName } from "../rules/file-name.ts";
import { ok, type Result, refuse, refuseField } from "../rules/problem.ts";
import { labelsOn, stocks } from "./stock.ts";
import { printTags, type TagLabel, type TagOptions } from "./tags.ts";

/** More than any sale needs in one file, and few enough to be drawn while somebody waits. */
export const mostTags = 10_000;

/** A label in the plainer shape that sheets of tags are set from. */
export const plainTag = (words: FullTag): TagLabel => ({
  ...words,
  description: words.title,
  fibreText: words.fibreLines.join(" "),
  careText: [...words.careLines, ...words.cautionLines].join(" "),
});

type FullTag = Omit<TagLabel, "description" | "fibreText" | "careText"> & {
  title: string;
  fibreLines: readonly string[];
  careLines: readonly string[];
  cautionLines: readonly string[];
};

/** A file of tags with the name it is kept under, or why there is none. */
export async function tagFile(
  tags: readonly TagLabel[],
  { about, ...options }: TagOptions & { about: string },
): Promise<Result<{ name: string; bytes: Uint8Array }>> {
  const labels = labelsOn(stocks[options.stock]);
  if (!Number.isInteger(options.startAt) || options.startAt < 1 || options.startAt > labels)
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
  const bytes = await printTags(tags, options);
  return ok({ name: fileName(["tags", options.saleName, about], "pdf"), bytes });
}
