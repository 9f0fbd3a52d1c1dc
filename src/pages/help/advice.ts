import type { ProblemCode } from "../../rules/problem.ts";

/** What to do about each refusal; a new code without advice does not compile. */
export const advice: Readonly<Record<ProblemCode, string>> = {
  "invalid-input":
    "Look at the fields that are marked, correct them and send again. Nothing was recorded, and what you typed is still there.",
  "not-signed-in": "Sign in. If you were signed in a moment ago, the chair may have ended it.",
  "wrong-sign-in":
    "Check the number or e-mail and type the pass phrase again. The chair can send you a link for a new one.",
  "not-a-till":
    "The chair makes a code on the page of the sale's tills; type it on this device. What the device recorded is kept on it until it can be sent.",
  "not-allowed": "Ask the chair whether you should have the role that this needs.",
  "form-expired": "Go back, load the page again and repeat what you did.",
  "not-found": "Check the address. What you look for may belong to somebody else.",
  "link-used": "Such a link works once and for a limited time. Ask the chair for a new one.",
  "too-many-tries": "Wait as long as the message says, then try again. Nobody is locked out.",
  "unknown-tag":
    "Read the tag once more. If it is right, ask the desk: the piece may belong to another sale.",
  "wrong-check-digits":
    "One digit was misread or mistyped. Read the tag again from left to right, or scan it.",
  "stage-closed":
    "The sale has moved on, or not yet come so far. The chair can tell you when this is possible.",
  "changed-meanwhile":
    "Load the page again, look at what the other person changed, and repeat your change if it is still wanted.",
  "already-done": "Nothing more to do: it was recorded before and was not recorded twice.",
  "already-sold":
    "The message says when and at which till. If the piece lies before you, keep it aside and tell the treasurer.",
  "not-on-floor": "Take the piece to the desk, so that it is checked in first.",
  "checked-in":
    "The desk has taken the piece in, so what its tag says is settled. Ask the desk to hand it back first.",
  withdrawn: "Its maker took the piece back. Keep it aside and ask the desk.",
  "other-sale":
    "The tag belongs to another sale. Look for a newer tag on the piece, or ask the desk.",
  "till-closed": "Open the till with its float first, then repeat what you did.",
  "out-of-order":
    "Leave the till's page open on line: it sends what came before first. If the words stay, tell the treasurer.",
  "limit-reached": "The sale or the guild set this limit. The chair can change it.",
  "label-too-small":
    "Choose the larger label that the message names, or let a full label go on to a second one. No label is printed without what the law or the till needs.",
  "look-first":
    "Open the piece at the desk and do what its caution says. Take it in there once you have looked.",
  "no-mail":
    "Print it instead. Receipts and statements by e-mail need a mail server in the settings of the service.",
  "still-open": "Finish first what the message names, then come back.",
  "key-reused":
    "A program sent one Idempotency-Key with two different contents. What came first was kept; use a fresh key for the other.",
  "outcome-unknown":
    "Send the same again, with the same key. If it was recorded the first time, you get that answer and nothing is done twice.",
};
