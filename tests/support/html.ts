/** The addresses that a page links to, as a browser would read them. */
export const linksIn = (html: string): string[] =>
  [...html.matchAll(/\shref="([^"]*)"/g)].map(([, link = ""]) =>
    link.replaceAll("&#x3D;", "=").replaceAll("&amp;", "&"),
  );
