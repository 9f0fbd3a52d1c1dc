/** Cheque numbers run on from the first; leading zeros stay, as they stand on the cheques. */
export const chequeNumber = (first: string, position: number): string =>
  String(BigInt(first) + BigInt(position)).padStart(first.length, "0");

/**
 * What a bank tells two transfers apart by (EndToEndId). A statement comes once in each run and
 * numbers are never given twice, so neither is this.
 */
export const transferReference = (runNumber: number, statementNumber: number): string =>
  `RUN${runNumber}-ST${statementNumber}`;

/** The name under which a bank knows a whole order (MsgId). */
export const runReference = (runNumber: number): string => `RUN${runNumber}`;
