/** What a browser would send of the form with this action, as it stands on a page. */
export function formFields(html: string, action: string): Record<string, string> {
  const forms = [...html.matchAll(/<form [^>]*action="([^"]+)"[\s\S]*?<\/form>/g)];
  const form = forms.find(([, where = ""]) => plain(where) === action)?.[0];
  if (form === undefined) throw new Error(`There is no form for ${action} on the page`);
  const found: Record<string, string> = {};
  for (const [tag] of form.matchAll(/<input\s[^>]*>/g)) {
    const name = attribute(tag, "name");
    const box = /type="(?:checkbox|radio)"/.test(tag);
    if (name && !(box && !/\schecked/.test(tag))) found[name] = attribute(tag, "value") ?? "";
  }
  for (const [whole, tag = ""] of form.matchAll(/(<select\s[^>]*>)[\s\S]*?<\/select>/g)) {
    const options = [...whole.matchAll(/<option\s[^>]*>/g)].map(([option]) => option);
    const chosen = options.find((option) => /\sselected/.test(option)) ?? options[0] ?? "";
    found[attribute(tag, "name") ?? ""] = attribute(chosen, "value") ?? "";
  }
  for (const [, tag = "", text = ""] of form.matchAll(
    /(<textarea\s[^>]*>)\n?([\s\S]*?)<\/textarea>/g,
  ))
    found[attribute(tag, "name") ?? ""] = plain(text);
  const { _csrf, _key, ...fields } = found;
  return fields;
}

const attribute = (tag: string, name: string): string | undefined => {
  const value = new RegExp(`\\s${name}="([^"]*)"`).exec(tag)?.[1];
  return value === undefined ? undefined : plain(value);
};

const signs: Record<string, string> = {
  ...{ "&quot;": '"', "&#x3D;": "=", "&#x27;": "'", "&lt;": "<", "&gt;": ">", "&amp;": "&" },
};

const plain = (text: string): string =>
  text.replace(/&(?:quot|#x3D|#x27|lt|gt|amp);/g, (sign) => signs[sign] ?? sign);
