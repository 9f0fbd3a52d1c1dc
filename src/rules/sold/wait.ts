/** How long pieces waited for their buyer, in steps that a member can do something with. */
export const paces = [
  ["2h", "0–2 hours", 120],
  ["6h", "2–6 hours", 360],
  ["1d", "6–24 hours", 1_440],
  ["2d", "1–2 days", 2_880],
  ["3d", "2–3 days", 4_320],
  ["later", "After 3 days", Number.POSITIVE_INFINITY],
] as const;

export type Pace = (typeof paces)[number][0];

/** The step of a wait in minutes; a wait that ends just at an edge counts to the shorter one. */
export const paceOf = (minutes: number): Pace => paces.find(([, , most]) => minutes <= most)![0];

/** "within 2 hours" or "within 3 days": a wait in minutes, said in the unit that fits. */
export function withinWords(minutes: number): string {
  const hours = Math.max(1, Math.ceil(minutes / 60));
  if (hours === 1) return "within an hour";
  if (hours <= 48) return `within ${hours} hours`;
  return `within ${Math.ceil(minutes / 1_440)} days`;
}

/** "40 min", "5 h" or "3 days": how long one piece waited; begun hours and days are left out. */
export function waitWords(minutes: number): string {
  if (minutes < 60) return `${minutes} min`;
  if (minutes < 2_880) return `${Math.trunc(minutes / 60)} h`;
  return `${Math.trunc(minutes / 1_440)} days`;
}
