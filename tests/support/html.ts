/** The addresses that a page links to, as a browser would read them. */
export const linksIn = (html: string): string[] =>
  [...html.matchAll(/\shref="([^"]*)"/g)].map(([, link = ""]) =>
    link.replaceAll("&#x3D;", "=").replaceAll("&amp;", "&"),
  );

/** The fields that a page's summary of faults leads to, in its order. */
export const errorLinks = (html: string): string[] =>
  [...html.matchAll(/<li><a href="#f-([^"]+)">/g)].map(([, field = ""]) => field);
