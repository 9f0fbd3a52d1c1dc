/** A typed text as a LIKE pattern that finds it anywhere; its own wildcards count as letters. */
export const anywhere = (text: string): string => `%${literal(text)}%`;

/** A typed text in which the wildcards of LIKE mean themselves. */
export const literal = (text: string): string => text.replace(/[\\%_]/g, "\\$&");
