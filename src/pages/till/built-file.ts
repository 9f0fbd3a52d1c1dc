import { readFile } from "node:fs/promises";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";

const folder = new URL("../../../.built/assets/", import.meta.url);

/** The text of a built file, by the address under which it is served. */
export const readBuilt = (address: string): Promise<string> =>
  readFile(fileURLToPath(new URL(basename(address), folder)), "utf8");
