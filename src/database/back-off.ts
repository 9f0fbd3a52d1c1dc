import { setTimeout as wait } from "node:timers/promises";

/** Waits before another try, longer each time and never the same, so that two do not collide again. */
export const backOff = (attempt: number): Promise<void> =>
  wait(10 * 2 ** attempt * (0.5 + Math.random()));
