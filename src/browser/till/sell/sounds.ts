import type { OutcomeKind } from "./outcome.ts";

/** Tones one after another: pitch in hertz, length in milliseconds, and the shape of the wave. */
interface Tune {
  wave: OscillatorType;
  tones: readonly (readonly [pitch: number, length: number])[];
  /** Vibration of a phone in milliseconds, on and off by turns. */
  shake: number[];
}

/** Told apart by rhythm and direction as well as pitch, since halls are loud and ears differ. */
export const tunes: Record<OutcomeKind | "tick" | "paid", Tune> = {
  added: { wave: "sine", tones: [[880, 70]], shake: [30] },
  here: {
    wave: "sine",
    tones: [
      [660, 60],
      [0, 40],
      [660, 60],
    ],
    shake: [30, 40, 30],
  },
  sold: {
    wave: "square",
    tones: [
      [392, 140],
      [294, 260],
    ],
    shake: [200, 60, 200],
  },
  "not-in": {
    wave: "triangle",
    tones: [
      [440, 120],
      [0, 50],
      [330, 160],
    ],
    shake: [120, 60, 120],
  },
  unknown: { wave: "square", tones: [[220, 300]], shake: [300] },
  misread: {
    wave: "sawtooth",
    tones: [
      [180, 90],
      [0, 60],
      [180, 90],
      [0, 60],
      [180, 90],
    ],
    shake: [60, 60, 60, 60, 60],
  },
  tick: { wave: "sine", tones: [[1_200, 15]], shake: [] },
  paid: {
    wave: "sine",
    tones: [
      [587, 80],
      [740, 80],
      [880, 120],
    ],
    shake: [40],
  },
};

let context: AudioContext | undefined;

/**
 * Browsers keep a page silent until a person has touched it. The sound itself is made ready before:
 * that can take a second, which the first scan must not wait for.
 */
export function unlockSounds(): void {
  context ??= typeof AudioContext === "undefined" ? undefined : new AudioContext();
  const unlock = () => void context?.resume();
  for (const event of ["pointerdown", "keydown"])
    document.addEventListener(event, unlock, { capture: true, once: true });
}

/** Plays a tune at a volume from 0 to 10; a phone also shakes. Without sound nothing is missed. */
export function play(name: keyof typeof tunes, volume: number): void {
  const { wave, tones, shake } = tunes[name];
  if (shake.length > 0) navigator.vibrate?.(shake);
  if (context?.state !== "running" || volume <= 0) return;
  let at = context.currentTime + 0.005;
  for (const [pitch, length] of tones) {
    if (pitch > 0) tone(context, wave, pitch, at, length / 1_000, volume / 25);
    at += length / 1_000;
  }
}

/** Fades at both ends: a tone that starts or stops at once clicks. */
function tone(
  audio: AudioContext,
  wave: OscillatorType,
  pitch: number,
  at: number,
  length: number,
  loud: number,
): void {
  const source = audio.createOscillator();
  const gain = audio.createGain();
  source.type = wave;
  source.frequency.value = pitch;
  gain.gain.setValueAtTime(0, at);
  gain.gain.linearRampToValueAtTime(loud, at + 0.006);
  gain.gain.setValueAtTime(loud, at + Math.max(0.006, length - 0.012));
  gain.gain.linearRampToValueAtTime(0, at + length);
  source.connect(gain).connect(audio.destination);
  source.start(at);
  source.stop(at + length + 0.01);
}
