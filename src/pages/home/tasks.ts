import type { SaleRead } from "../../database/sales.ts";
import type { Role } from "../../rules/roles.ts";
import { nextStage, type Stage } from "../../rules/sale-stage.ts";
import { stageWords } from "../../rules/stage-words.ts";
import { type Region, whenText } from "../format.ts";

export interface Task {
  title: string;
  text: string;
  href?: string;
  label?: string;
}

export interface Standing {
  /** The sales the guild is busy with, the newest first. */
  busy: readonly SaleRead[];
  /** A sale that the chair still plans. */
  planned: SaleRead | null;
  region: Region;
  myItems: number;
  mySold: number;
  accepted: boolean;
}

/** What each role can do now, in the order in which the roles are held. */
export const tasksFor = (roles: readonly Role[], standing: Standing): Task[] =>
  (["member", "desk", "cashier", "treasurer", "chair"] as const)
    .filter((role) => roles.includes(role))
    .map((role) => taskOf[role](standing));

const taskOf: Record<Role, (standing: Standing) => Task> = {
  member: memberTask,
  desk: ({ busy }) =>
    whileIn(busy, ["entries-closed", "selling", "settling"], {
      title: "At the desk",
      text: ({ stage }) =>
        stage === "settling"
          ? "Unsold goods go home with their makers."
          : "Goods are coming in. Scan or type each tag.",
      href: "/desk",
      label: "Go to the desk",
      later: "The desk opens when entries are closed.",
    }),
  cashier: ({ busy }) =>
    whileIn(busy, ["selling"], {
      title: "At the till",
      text: () => "The sale is on. Open a till with its float, or go on where you stopped.",
      href: "/till",
      label: "Go to the till",
      later: "The tills open when selling starts.",
    }),
  treasurer: ({ busy }) =>
    whileIn(busy, ["selling", "settling"], {
      title: "For the treasurer",
      text: ({ stage }) =>
        stage === "settling"
          ? "Selling is over. Work out who is owed what, then pay."
          : "Takings and cash-ups show in the books as they come in.",
      href: "/books",
      label: "Go to the books",
      later: "There is something to settle once selling has begun.",
    }),
  chair: chairTask,
};

interface Opening {
  title: string;
  text: (sale: SaleRead) => string;
  href: string;
  label: string;
  later: string;
}

/** The newest sale at one of these stages decides, whatever the next sale is already doing. */
function whileIn(busy: readonly SaleRead[], stages: Stage[], opening: Opening): Task {
  const { later, title, text, ...open } = opening;
  const sale = busy.find(({ stage }) => stages.includes(stage));
  return sale ? { title, text: text(sale), ...open } : { title, text: later };
}

function memberTask({ busy, region, myItems, mySold, accepted }: Standing): Task {
  const title = "Your own work";
  const sale = busy[0];
  if (!sale)
    return {
      title,
      text: "No sale is on just now. When the chair opens entries, you see it here.",
    };
  if (!accepted && sale.stage === "entries-open")
    return {
      title,
      text: `Entries for ${sale.name} are open until ${whenText(sale.entryDeadline, region)}. First read what you agree to.`,
      href: `/sales/${sale.id}/agreement`,
      label: "Read and agree",
    };
  if (sale.stage === "entries-open")
    return {
      title,
      text: `You have entered ${counted(myItems)}. Entries end ${whenText(sale.entryDeadline, region)}.`,
      href: "/items",
      label: myItems === 0 ? "Enter your first item" : "My items",
    };
  const entered = { title, text: `You have entered ${counted(myItems)}.`, href: "/items" };
  if (sale.stage === "entries-closed") return { ...entered, label: "My items" };
  const sold = mySold === 0 ? "none is" : mySold === 1 ? "1 piece is" : `${mySold} pieces are`;
  const text = `You have entered ${counted(myItems)}; ${sold} sold${mySold === 0 ? " yet" : ""}.`;
  return { title, text, href: "/results", label: "What sold" };
}

function chairTask({ busy, planned }: Standing): Task {
  const title = "For the chair";
  // The oldest one is nearest to its end and waits for the chair.
  const subject = busy.at(-1) ?? planned;
  if (!subject)
    return {
      title,
      text: "No sale is planned. Start with its days and what the guild keeps.",
      href: "/sales/new",
      label: "Plan a sale",
    };
  const next = nextStage(subject.stage);
  const step = next ? ` The next step: ${stageWords[next].enter.toLowerCase()}.` : "";
  return {
    title,
    text: `${subject.name} is at the stage “${stageWords[subject.stage].label}”.${step}`,
    href: `/sales/${subject.id}`,
    label: "Go to the sale",
  };
}

const counted = (items: number): string =>
  items === 0 ? "nothing yet" : items === 1 ? "1 item" : `${items} items`;
