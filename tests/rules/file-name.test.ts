import { expect, test } from "vitest";
import { fileName } from "../../src/rules/file-name.ts";

test.each([
  [["tags", "Autumn sale", "101"], "tags-autumn-sale-101.pdf"],
  [["Été à l'atelier"], "ete-a-l-atelier.pdf"],
  [["../../etc/passwd"], "etc-passwd.pdf"],
  [['a"b\r\nSet-Cookie: x'], "a-b-set-cookie-x.pdf"],
  [["織", "מכירה"], "file.pdf"],
  [["tags", "織"], "tags.pdf"],
])("%j becomes %s", (parts, name) => {
  expect(fileName(parts, "pdf")).toBe(name);
});
