import { keepDevice } from "./device-settings.ts";
import { part } from "./dom.ts";
import { type KeyAt, learn, readText, testReads } from "./learn-scanner.ts";
import type { Till } from "./till.ts";

/** Longer than any scanner waits between two keys, shorter than anybody between two scans. */
const between = 400;
const givesUp = 60_000;

let readings: KeyAt[][] = [];
let hears: ((key: KeyAt) => void) | undefined;
let pause: ReturnType<typeof setTimeout> | undefined;

/** Where keys go while the scanner is being taught; undefined at all other times. */
export const lesson = (): ((key: KeyAt) => void) | undefined => hears;

export function wireTeaching(till: Till): void {
  part("teach").addEventListener("click", () => {
    if (hears) endLesson("Stopped. The scanner works as before.");
    else startLesson(till);
  });
  document.addEventListener("keydown", ({ key }) => {
    if (key === "Escape" && hears) endLesson("Stopped. The scanner works as before.");
  });
}

function startLesson(till: Till): void {
  readings = [];
  let now: KeyAt[] = [];
  const ended = () => {
    readings.push(now);
    now = [];
    tell(till);
  };
  hears = (key) => {
    now.push(key);
    clearTimeout(pause);
    pause = setTimeout(ended, between);
  };
  pause = setTimeout(() => endLesson("Nothing was scanned. The scanner works as before."), givesUp);
  part("teach").textContent = "Stop";
  say("Scan the code now, three times in all.");
}

function tell(till: Till): void {
  const read = readText(readings.at(-1) ?? []);
  const outcome = learn(readings);
  if (outcome.kind === "wrong") {
    readings = [];
    say(outcome.words);
  } else if (readings.length < testReads) {
    say(`Read ${read}. Scan it ${testReads - readings.length === 1 ? "once" : "twice"} more.`);
  } else {
    till.device = { ...till.device, scanner: outcome.settings };
    const kept = keepDevice(till.device) ? "" : " This browser keeps it only until it is closed.";
    const { suffix } = outcome.settings;
    const end = suffix === "none" ? "presses nothing at the end" : `ends with ${suffix}`;
    endLesson(`Learned: it needs ${Math.ceil(outcome.slowest)} ms for a digit and ${end}.${kept}`);
  }
}

function endLesson(words: string): void {
  clearTimeout(pause);
  hears = undefined;
  part("teach").textContent = "Teach the scanner";
  say(words);
}

const say = (words: string): void => {
  part("taught").textContent = words;
};
