export interface Node {
  name: string;
  attributes: Record<string, string>;
  text: string;
  children: Node[];
}

/**
 * Reads XML strictly: one root, tags that close in order, text only in leaves, no entity, comment
 * or instruction beyond the first line. Throws at anything else.
 */
export function readXml(text: string): Node {
  const head = '<?xml version="1.0" encoding="UTF-8"?>\n';
  if (!text.startsWith(head)) throw new Error("No XML declaration");
  let rest = text.slice(head.length);
  const take = (pattern: RegExp): RegExpExecArray | null => {
    const found = pattern.exec(rest);
    if (found) rest = rest.slice(found[0].length);
    return found;
  };
  const node = (): Node => {
    const open = take(/^<([A-Za-z]+)((?: [A-Za-z]+="[^"<&]*")*)>/);
    if (!open) throw new Error(`No element at: ${rest.slice(0, 40)}`);
    const name = open[1] as string;
    const attributes: Record<string, string> = {};
    for (const [, key, value] of (open[2] ?? "").matchAll(/ ([A-Za-z]+)="([^"]*)"/g))
      attributes[key as string] = value as string;
    const inner = take(/^[^<>&]*/)?.[0] ?? "";
    const children: Node[] = [];
    while (!rest.startsWith("</")) children.push(node());
    if (!take(new RegExp(`^</${name}>`))) throw new Error(`${name} is closed by ${rest}`);
    if (children.length > 0 && inner !== "") throw new Error(`Text beside elements in ${name}`);
    return { name, attributes, text: inner, children };
  };
  const root = node();
  if (rest !== "\n") throw new Error(`Something after the end: ${rest}`);
  return root;
}
