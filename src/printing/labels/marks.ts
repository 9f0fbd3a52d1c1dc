import type { Faces, FontName } from "../fonts.ts";
import type { Ink } from "../ink.ts";
import type { Bars, Path, Squares, Weave } from "../shapes.ts";

/**
 * One thing on a label, in points from the label's top left corner. Paper and preview are both
 * drawn from the same list of marks, so they cannot differ.
 */
export type Mark =
  | { kind: "text"; face: FontName; size: number; x: number; baseline: number; text: string }
  | { kind: "bars"; bars: Bars }
  | { kind: "squares"; squares: Squares }
  | { kind: "weave"; weave: Weave }
  | { kind: "path"; path: Path };

/** Draws the marks of one label whose top left corner is the ink's origin. */
export function drawMarks(ink: Ink, faces: Faces, marks: readonly Mark[]): void {
  for (const mark of marks) {
    switch (mark.kind) {
      case "text":
        ink.text(faces[mark.face], mark.size, mark.x, mark.baseline, mark.text);
        break;
      case "bars":
        ink.bars(mark.bars);
        break;
      case "squares":
        ink.squares(mark.squares);
        break;
      case "weave":
        ink.weave(mark.weave);
        break;
      case "path":
        ink.path(mark.path);
        break;
    }
  }
}
