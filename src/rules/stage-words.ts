import type { Stage } from "./sale-stage.ts";

interface StageWords {
  label: string;
  /** What may be done while the sale stands here. */
  allows: string;
  /** The button that brings the sale here from the stage before. */
  enter: string;
}

/** How each stage is spoken of: on pages, in refusals and in the help. */
export const stageWords: Readonly<Record<Stage, StageWords>> = {
  planning: {
    label: "Planning",
    allows: "The chair sets dates, rates, limits and the agreement. Members cannot enter yet.",
    enter: "Go back to planning",
  },
  "entries-open": {
    label: "Entries open",
    allows: "Members enter their items, change them and print tags.",
    enter: "Open entries",
  },
  "entries-closed": {
    label: "Entries closed",
    allows: "The desk checks goods in and may still enter items for latecomers.",
    enter: "Close entries",
  },
  selling: {
    label: "Selling",
    allows: "The tills sell and take returns. The desk may still check goods in.",
    enter: "Start selling",
  },
  settling: {
    label: "Settling",
    allows: "The treasurer works out who is owed what and pays. Unsold goods go home.",
    enter: "End selling and settle",
  },
  closed: {
    label: "Closed",
    allows: "Everything is paid. The figures stay as they are.",
    enter: "Close the sale",
  },
};

/** "Go back to selling": the button for one stage back. */
export const backWords = (stage: Stage): string =>
  `Go back to ${stageWords[stage].label.toLowerCase()}`;
