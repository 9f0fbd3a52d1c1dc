/**
 * A name for a file to keep: small Latin letters, digits and hyphens, which every system and every
 * Content-Disposition header takes as they are. Parts without any of them are left out.
 */
export function fileName(parts: readonly string[], ending: string): string {
  const words = parts
    .map((part) =>
      part
        .normalize("NFKD")
        .replace(/\p{M}/gu, "")
        .toLowerCase()
        .replace(/[^a-z0-9]+/g, "-")
        .replace(/^-+|-+$/g, "")
        .slice(0, 40),
    )
    .filter(Boolean);
  return `${words.join("-") || "file"}.${ending}`;
}
