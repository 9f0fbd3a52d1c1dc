/**
 * What a piece bears, per step of its care, gentlest first. The weakest part of a piece decides
 * each step on its own. Heat is in degrees Celsius, an iron's in dots (110, 150, 200).
 */
export const careSteps = {
  wash: ["none", "hand-30", "very-gentle-30", "gentle-30", "gentle-40", "machine-40", "machine-60"],
  bleach: ["none", "non-chlorine", "any"],
  dry: ["flat-shade", "flat", "line", "tumble-low", "tumble-medium"],
  iron: ["none", "1", "2", "3"],
  professional: ["none", "F-gentle", "F", "P"],
} as const;

export type CareStep = keyof typeof careSteps;
export type CareLevel<Step extends CareStep> = (typeof careSteps)[Step][number];
export type CareLevels = { [Step in CareStep]: CareLevel<Step> };

/** The order in which text and symbols stand (ASTM D3136 1.6; ISO 3758, from memory). */
export const stepOrder = ["wash", "bleach", "dry", "iron", "professional"] as const;

const rankOf = (step: CareStep, level: string) =>
  (careSteps[step] as readonly string[]).indexOf(level);

/** Whether a level is one this step has. */
export const isCareLevel = (step: CareStep, level: string): boolean => rankOf(step, level) >= 0;

/** Whether the second level treats the piece harder than the first. */
export const isStronger = (step: CareStep, from: string, to: string): boolean =>
  rankOf(step, to) > rankOf(step, from);

/** The gentler of two at every step; steps that the second leaves out stay as they are. */
export function gentlest(levels: CareLevels, caps: Partial<CareLevels>): CareLevels {
  const result: Record<CareStep, string> = { ...levels };
  for (const step of stepOrder) {
    const cap = caps[step];
    if (cap !== undefined && isStronger(step, cap, result[step])) result[step] = cap;
  }
  return result as CareLevels;
}
