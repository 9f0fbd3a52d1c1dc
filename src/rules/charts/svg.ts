const escapes: Record<string, string> = {
  "&": "&amp;",
  "<": "&lt;",
  ">": "&gt;",
  '"': "&quot;",
  "'": "&#39;",
};

const escaped = (text: string): string => text.replace(/[&<>"']/g, (sign) => escapes[sign] ?? sign);

/** One SVG element; `content` is markup, made by `element` or `words`. */
export function element(
  name: string,
  attributes: Record<string, string | number>,
  content = "",
): string {
  const written = Object.entries(attributes)
    .map(([key, value]) => ` ${key}="${escaped(String(value))}"`)
    .join("");
  return content === "" ? `<${name}${written}/>` : `<${name}${written}>${content}</${name}>`;
}

/** Text as markup, without control characters, which no SVG may hold. */
export const words = (text: string): string => escaped(text.replace(/\p{Cc}/gu, " "));
