/** What an archive says it is. The version counts up when an older service could not read it. */
export const archiveFormat = "thrumbook-archive";
export const archiveVersion = 1;

export const manifestPath = "manifest.json";
export const rowsPath = (table: string): string => `rows/${table}.json`;

/** A file of an archive, as it has to be when it is read again. */
export interface ArchivedFile {
  path: string;
  bytes: number;
  /** Of the file itself, as 64 hexadecimal digits. */
  sha256: string;
  /** How many rows of a table it holds; null for what is no table. */
  rows: number | null;
}

export interface Manifest {
  format: typeof archiveFormat;
  version: number;
  /** The newest change of the tables that the service knew: rows fit these tables only. */
  tables: string;
  madeAt: string;
  guild: { name: string; currency: string; timeZone: string };
  sale: { id: string; name: string; firstDay: string; lastDay: string };
  /** What stands on each account, in smallest coins as text; debit is above zero. */
  accounts: Record<string, string>;
  files: ArchivedFile[];
}

/**
 * What is read at most. A guild with fifty thousand lines has an archive of about a tenth of this;
 * whatever is larger was made to fill a memory.
 */
export const largestArchive = 200_000_000;
export const largestFile = 200_000_000;
export const largestUnpacked = 1_500_000_000;
export const mostFiles = 20_000;
