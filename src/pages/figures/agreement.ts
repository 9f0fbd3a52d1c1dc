/** What a report says at its top about the ledger: that it agrees, or by which amounts it does not. */
export const agreement = (agrees: boolean, shown: string, booked: string) =>
  agrees
    ? {
        kind: "good",
        title: "This agrees with the books",
        text: `${shown}, and so says the ledger.`,
      }
    : {
        kind: "bad",
        title: "This does not agree with the books",
        text: `${shown}; the ledger says ${booked}. Open "Check the books" before you use these figures.`,
      };
