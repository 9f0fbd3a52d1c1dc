/** What a person may do in the guild; one person may hold several roles. */
export const roles = ["member", "cashier", "desk", "treasurer", "chair"] as const;

export type Role = (typeof roles)[number];

export const isRole = (text: string): text is Role => (roles as readonly string[]).includes(text);

export const hasAny = (held: readonly Role[], wanted: readonly Role[]): boolean =>
  wanted.some((role) => held.includes(role));
