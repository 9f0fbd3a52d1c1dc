import type { LabelContent } from "../../rules/labels/label-content.ts";
import { ASCENT, type Faces } from "../fonts.ts";
import type { Stock } from "../stock-shape.ts";
import { tidy } from "../text-fit.ts";
import { LEADING, setBody } from "./body.ts";
import { type PlainContent, plainContent } from "./content.ts";
import { type Frame, framesOf } from "./design.ts";
import type { Laid, Setting } from "./laid.ts";
import { flowOn, partsOf, shareOut } from "./overflow.ts";
import { type Block, type Part, reliefs, tagBlocks } from "./passages.ts";
import { bodyMarks, tagMarks, textMark } from "./tag-marks.ts";
import {
  barModules,
  carryOut,
  missingFigures,
  placesIn,
  planTag,
  type TagPlan,
  zonesOf,
} from "./tag-plan.ts";
import { AIR, sideWeave } from "./zones.ts";

/** Sets one tag as well as its stock allows. */
export function setTag(
  faces: Faces,
  label: LabelContent,
  stock: Stock,
  guildName: string,
  known?: TagPlan,
): Setting {
  const content = plainContent(label);
  const frames = framesOf(stock);
  const guild = tidy(guildName);
  const plan = known ?? planTag(faces, content, frames);
  if (plan === undefined) return setOverflowing(faces, content, frames.at(-1)!, guild);
  const laid = (): Laid[] => {
    const { frame } = plan;
    const { zones, body } = carryOut(faces, content, plan);
    return [{ marks: tagMarks(faces, content, frame, zones, body, guild), height: frame.height }];
  };
  return { fits: true, dropped: plan.relief.dropped, textSize: plan.size, plan, laid };
}

function setOverflowing(faces: Faces, content: PlainContent, frame: Frame, guild: string): Setting {
  const place = placesIn(faces, content, frame).at(-1);
  if (place === undefined) {
    return { fits: false, missing: figuresWithoutRoom(faces, content, frame), laid: undefined };
  }
  const { zones } = place;
  const relief = reliefs(content).at(-1)!;
  const blocks = tagBlocks(content, relief, frame.design);
  const { left, right, top, bottom } = zones.body;
  const room = { width: right - left, height: bottom - top };
  const size = frame.design.bodySizes.at(-1)!;
  const shared = shareOut(faces, blocks, room, size);
  const missing = partsOf(shared.left);
  const laid = (): Laid[] => {
    const body = setBody(faces, shared.kept, 0, room.width, size);
    const first = tagMarks(faces, content, frame, zones, body, guild);
    return [{ marks: first, height: frame.height }, ...further(faces, content, frame, shared.left)];
  };
  return { fits: false, missing, laid };
}

function figuresWithoutRoom(faces: Faces, content: PlainContent, frame: Frame): Part[] {
  const [module] = barModules(frame, content);
  if (module === undefined) return ["number"];
  return missingFigures(faces, content, zonesOf(frame, content, module), frame);
}

/** Further labels with the number, so that they find their piece, and the words that are left. */
function further(
  faces: Faces,
  content: PlainContent,
  frame: Frame,
  blocks: readonly Block[],
): Laid[] {
  const { clear, design } = frame;
  const { weave, left } = sideWeave(frame);
  const head = LEADING * design.footSize + AIR / 2;
  const box = { ...clear, left, top: clear.top + head };
  const room = { width: box.right - box.left, height: box.bottom - box.top };
  return flowOn(faces, blocks, room, design.bodySizes).map((body) => {
    const letters = {
      face: "bold",
      size: design.footSize,
      text: `${content.shownTag}, continued`,
    } as const;
    const baseline = clear.top + ASCENT * design.footSize;
    const marks = bodyMarks(faces, body, box, "left", undefined);
    return {
      marks: [{ kind: "weave", weave }, textMark(faces, letters, box, baseline, "left"), ...marks],
      height: frame.height,
    };
  });
}
