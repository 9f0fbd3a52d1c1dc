/**
 * A short code for a tax from its name: "State tax 4 %" is "state-tax-4". It names the tax in the
 * books for good, whatever the tax is called later. `position` makes a code where no letter is left.
 */
export function codeOf(name: string, position: number): string {
  const code = name
    .normalize("NFD")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "")
    .slice(0, 20)
    .replace(/-$/, "");
  return code === "" ? `tax-${position + 1}` : code;
}
