import { v7 } from "uuid";
import type { Ask, Reply } from "../carry/server.ts";
import { inOneStep, readNote, type Shelf } from "../keep/shelf.ts";
import { part, show } from "../sell/dom.ts";
import type { Kept } from "./open-parts.ts";
import { showScreen } from "./screens.ts";

/** Asks for the chair's code and a name for the device; `enrolled` runs once the server knows it. */
export function askForCode(kept: Kept, ask: Ask, enrolled: () => void): void {
  const form = part<HTMLFormElement>("enrol-form");
  let busy = false;
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    if (busy) return;
    busy = true;
    void enrol(kept, ask)
      .then((words) => (words === undefined ? enrolled() : say(words)))
      .finally(() => {
        busy = false;
      });
  });
  show("enrol-back", kept.scene.known());
  showScreen("enrol");
}

/** Undefined when the device is a till now, else what stands against it. */
async function enrol(kept: Kept, ask: Ask): Promise<string | undefined> {
  const { shelf, scene } = kept;
  const code = part<HTMLInputElement>("enrol-code").value.trim();
  const name = part<HTMLInputElement>("enrol-name").value.trim();
  if (code === "") return "Type the code that the chair shows.";
  if (name === "") return "Give this device a name, such as Grey laptop.";
  const attempt = await attemptFor(shelf, code);
  const keeps = scene.known() && { tillId: scene.now().till.id, lastNumber: kept.lastNumber() };
  const body = { code, name, attempt, ...(keeps ? { keeps } : {}) };
  const reply = await ask("/api/till/enrolment", { body });
  return reply.kind === "answer" ? undefined : wordsOf(reply);
}

function wordsOf(reply: Exclude<Reply, { kind: "answer" }>): string {
  if (reply.kind === "silent")
    return "The server did not answer. Nothing was lost: press the button again in a moment.";
  const { errors = [] } = (reply.body ?? {}) as { errors?: { message?: string }[] };
  return errors[0]?.message ?? reply.detail;
}

/** The same mark for the same code, so that a code whose answer was lost is not used up by it. */
async function attemptFor(shelf: Shelf, code: string): Promise<string> {
  const before = await readNote(shelf, "enrolment");
  if (before?.code === code) return before.attempt;
  const attempt = v7();
  await inOneStep(shelf, ["notes"], "strict", async (step) => {
    await step.objectStore("notes").put({ code, attempt }, "enrolment");
  });
  return attempt;
}

function say(words: string): void {
  const error = part("enrol-error");
  error.textContent = words;
  error.hidden = false;
  part("enrol-code").focus();
}
