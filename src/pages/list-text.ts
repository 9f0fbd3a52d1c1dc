/**
 * The text of an uploaded file; empty when there is none. Older spreadsheets save in the Windows
 * code page or in UTF-16 instead of UTF-8, and a name with an accent must survive that.
 */
export function listText(file: unknown): string {
  if (!(file instanceof Uint8Array)) return "";
  if (file[0] === 0xff && file[1] === 0xfe) return new TextDecoder("utf-16le").decode(file);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(file);
  } catch {
    return new TextDecoder("windows-1252").decode(file);
  }
}
