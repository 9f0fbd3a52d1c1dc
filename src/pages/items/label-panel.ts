import type { ShownItem } from "../../database/items.ts";
import type { ItemLabel, ToldRule, Topic } from "../../rules/labels/item-label.ts";
import type { LabelLine } from "../../rules/labels/language.ts";

const topicWords: Record<Topic, string> = {
  fibre: "Fibres",
  care: "Care",
  caution: "Caution",
  origin: "Origin",
  identity: "Maker",
  title: "Description",
};

const texts = (lines: readonly LabelLine[]): string[] => lines.map(({ text }) => text);

/** Everything a label says about a piece, with what it rests on, ready to be shown. */
export function labelPanel(label: ItemLabel, item: Pick<ShownItem, "id" | "label">) {
  const { testedBy, testedAt } = item.label.care;
  return {
    rows: [
      { label: topicWords.fibre, lines: texts(label.fibre.lines) },
      { label: topicWords.care, lines: texts(label.care.lines) },
      { label: topicWords.caution, lines: texts(label.caution.lines) },
      { label: topicWords.origin, lines: texts(label.origin) },
      { label: topicWords.identity, lines: label.identity },
    ].filter(({ lines }) => lines.length > 0),
    duties: dutiesOf(label),
    tested:
      label.care.recorded.basis === "tested" && testedAt
        ? { by: testedBy, at: testedAt.slice(0, 10) }
        : null,
    refusals: label.refusals.map(told),
    warnings: label.warnings.map(told),
    desk: label.caution.desk,
    reasons: label.reasons.map(told),
  };
}

/** What the law asks of this piece, so that a member knows what may not be cut off. */
function dutiesOf({ fibre, care }: ItemLabel): string[] {
  return [
    ...(fibre.duty.required ? ["The fibre label has to stay on until the piece is sold."] : []),
    ...(care.duty.permanent
      ? [
          "The care words have to be on the piece for good: a hang-tag alone does not do. Print a care strip and sew it in.",
        ]
      : []),
  ];
}

export const told = ({ about, words, source, fromMemory }: ToldRule) => ({
  topic: topicWords[about],
  words,
  source: fromMemory && !/from memory/.test(source) ? `${source}; ${unread}` : plainSource(source),
});

const unread = "not yet compared with the official text";

/** A source as people read it: a rule noted down from memory waits to be compared. */
export const plainSource = (source: string): string => source.replaceAll("from memory", unread);
