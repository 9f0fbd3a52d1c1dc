import type { FieldError } from "../rules/problem.ts";
import type { Shift } from "./ink.ts";
import { toPoints } from "./lengths.ts";

/**
 * How one printer differs from a perfect one. The nudge in millimetres moves everything right and
 * down (negative: left and up); the scale in thousandths stretches it from the top left corner.
 */
export interface Calibration {
  nudgeX: number;
  nudgeY: number;
  scaleX: number;
  scaleY: number;
}

export const perfect: Calibration = { nudgeX: 0, nudgeY: 0, scaleX: 1000, scaleY: 1000 };

/** More than this is not a printer's tolerance but the wrong paper or a wrong print setting. */
const MOST_NUDGE = 15;
const MOST_SCALE = 50;

/** What is wrong with typed figures; an empty list when they can be used. */
export function checkCalibration(calibration: Calibration): FieldError[] {
  const errors: FieldError[] = [];
  for (const field of ["nudgeX", "nudgeY"] as const) {
    if (!(Math.abs(calibration[field]) <= MOST_NUDGE)) {
      errors.push({ field, message: `Move the print by at most ${MOST_NUDGE} mm either way.` });
    }
  }
  for (const field of ["scaleX", "scaleY"] as const) {
    const off = Math.abs(calibration[field] - 1000);
    if (!Number.isInteger(calibration[field]) || off > MOST_SCALE) {
      errors.push({ field, message: "Stretch the print to between 95 and 105 percent." });
    }
  }
  return errors;
}

/** The calibration as a transformation of the page; it throws for figures that were not checked. */
export function shiftOf(calibration: Calibration): Shift {
  const [error] = checkCalibration(calibration);
  if (error !== undefined) throw new RangeError(`${error.field}: ${error.message}`);
  return {
    scaleX: calibration.scaleX / 1000,
    scaleY: calibration.scaleY / 1000,
    x: toPoints(calibration.nudgeX),
    y: toPoints(calibration.nudgeY),
  };
}
