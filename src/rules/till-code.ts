/** No 0, O, 1, I or L: whoever reads the code out over a busy hall is understood. */
export const codeAlphabet = "23456789ABCDEFGHJKMNPQRSTUVWXYZ";
export const codeLength = 8;
/** How long a code that makes a device a till can be used. */
export const codeMinutes = 15;

/** "ABCD-2345": in two halves, as it is read out and typed. */
export const showCode = (code: string): string => `${code.slice(0, 4)}-${code.slice(4)}`;

/** Reads a typed code: small letters, spaces and dashes do not matter. Undefined when it is none. */
export function readCode(typed: string): string | undefined {
  const code = typed.toUpperCase().replace(/[\s\-–]/g, "");
  const fits = code.length === codeLength && [...code].every((sign) => codeAlphabet.includes(sign));
  return fits ? code : undefined;
}
