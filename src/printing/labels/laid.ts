import type { Mark } from "./marks.ts";
import type { Part } from "./passages.ts";
import type { TagPlan } from "./tag-plan.ts";

/** One label ready to draw; `height` is its length on a continuous roll, in points. */
export interface Laid {
  marks: Mark[];
  height: number;
}

/** What happened when a label was set. */
export type Setting =
  | {
      fits: true;
      dropped: Part[];
      textSize: number;
      /** Given back when the same label is set again, it spares finding out what fits. */
      plan?: TagPlan;
      laid: () => Laid[];
    }
  | {
      fits: false;
      missing: Part[];
      /** The label with what has room and the further labels; none when a figure has no room. */
      laid: (() => Laid[]) | undefined;
    };
