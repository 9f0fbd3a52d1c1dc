/** What a move of cash without a sale is called, and what it means to whoever does it. */
export const cashMoveWords = {
  "to-safe": {
    label: "Cash to the safe",
    hint: "Large notes leave the drawer and are locked away.",
  },
  "paid-in": { label: "Paid in", hint: "Cash comes into the drawer, as when change is brought." },
  "paid-out": { label: "Paid out", hint: "Cash is spent from the drawer, as for tape or stamps." },
} as const;
