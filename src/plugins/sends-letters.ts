import type { Parts } from "./types.ts";

/** Letters need a mail server, and the service's own address for the links in them. */
export const sendsLetters = ({ mail, publicUrl }: Parts["settings"]): boolean =>
  mail !== undefined && publicUrl !== undefined;
