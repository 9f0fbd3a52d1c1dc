import { createHash } from "node:crypto";
import { type UnzipFileInfo, unzipSync } from "fflate";
import { manifestShape } from "../../contract/archive.ts";
import {
  archiveVersion,
  largestArchive,
  largestFile,
  largestUnpacked,
  type Manifest,
  manifestPath,
  mostFiles,
} from "../../rules/archive.ts";
import { ok, type Result, refuse, refuseField } from "../../rules/problem.ts";

/** An archive whose every file is what its manifest says. */
export interface OpenArchive {
  manifest: Manifest;
  text(path: string): string;
}

const notOurs = "This is not an archive that Thrumbook made, or it was cut off on its way.";

/** Opens a zip in memory. Nothing of it is written anywhere, whatever its paths say. */
export function openArchive(zip: Uint8Array): Result<OpenArchive> {
  const entries = entriesOf(zip);
  if (!entries.ok) return entries;
  const manifest = manifestOf(zip, entries.value);
  if (!manifest.ok) return manifest;
  const faults = faultsIn(zip, entries.value, manifest.value);
  if (faults.length > 0) return refuseFiles(faults);
  const text = (path: string) => new TextDecoder().decode(unpacked(zip, path));
  return ok({ manifest: manifest.value, text });
}

/** At most so many faults are told one by one. */
const mostTold = 12;

export const refuseFiles = (faults: readonly string[]) => {
  const told = faults.slice(0, mostTold);
  const rest = faults.length - told.length;
  const more = rest > 0 ? [`${rest} more files are wrong.`] : [];
  return refuse(
    "invalid-input",
    `This archive cannot be taken back, and nothing was kept. ${[...told, ...more].join(" ")}`,
    [...told, ...more].map((message) => ({ field: "file", message })),
  );
};

/** The table of contents, as long as what it announces has room in a memory. */
function entriesOf(zip: Uint8Array): Result<Map<string, UnzipFileInfo>> {
  if (zip.length > largestArchive)
    return refuseField("file", "This file is larger than any archive of ours.");
  const entries = new Map<string, UnzipFileInfo>();
  let announced = 0;
  let twice = false;
  try {
    unzipSync(zip, {
      filter: (info) => {
        twice ||= entries.has(info.name);
        entries.set(info.name, info);
        announced += info.originalSize;
        return false;
      },
    });
  } catch {
    return refuseField("file", notOurs);
  }
  const sizes = [...entries.values()].map(({ originalSize }) => originalSize);
  if (twice || entries.size > mostFiles || announced > largestUnpacked)
    return refuseField("file", "This zip holds more than any archive of ours.");
  if (sizes.some((size) => size > largestFile))
    return refuseField("file", "This zip holds a file that is larger than any of ours.");
  return ok(entries);
}

/** One file. Its room is taken once, by the length that was looked at: a zip bomb fills no more. */
function unpacked(zip: Uint8Array, path: string): Uint8Array {
  return unzipSync(zip, { filter: ({ name }) => name === path })[path] ?? new Uint8Array(0);
}

function manifestOf(zip: Uint8Array, entries: Map<string, UnzipFileInfo>): Result<Manifest> {
  if (!entries.has(manifestPath))
    return refuseField("file", `${notOurs} It has no ${manifestPath}.`);
  const read = manifestShape.safeParse(jsonIn(zip));
  if (!read.success)
    return refuseField("file", `${notOurs} Its ${manifestPath} is not one of ours.`);
  if (read.data.version !== archiveVersion)
    return refuseField(
      "file",
      `This archive is of version ${read.data.version}; this service reads version ${archiveVersion}. Take it back with the Thrumbook that made it.`,
    );
  return ok(read.data);
}

function jsonIn(zip: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder().decode(unpacked(zip, manifestPath)));
  } catch {
    return undefined;
  }
}

/** What is wrong, file by file, in plain words. */
function faultsIn(
  zip: Uint8Array,
  entries: Map<string, UnzipFileInfo>,
  { files }: Manifest,
): string[] {
  const faults: string[] = [];
  const named = new Set([manifestPath, ...files.map(({ path }) => path)]);
  for (const { path, bytes, sha256 } of files) {
    const entry = entries.get(path);
    if (!entry) faults.push(`${path} is missing.`);
    else if (entry.originalSize !== bytes || hashOf(zip, path) !== sha256)
      faults.push(`${path} was changed or damaged.`);
  }
  for (const path of entries.keys())
    if (!named.has(path)) faults.push(`${shown(path)} does not belong to the archive.`);
  return faults;
}

function hashOf(zip: Uint8Array, path: string): string | undefined {
  try {
    return createHash("sha256").update(unpacked(zip, path)).digest("hex");
  } catch {
    return undefined;
  }
}

/** A name out of a stranger's zip, with its odd signs taken out. */
const shown = (path: string): string => path.replace(/[^\w./-]/g, "?").slice(0, 80);
