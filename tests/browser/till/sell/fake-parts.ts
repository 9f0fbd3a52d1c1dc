import type { ReceiptAnswer, TillParts, TillState } from "../../../../src/browser/till/parts.ts";
import type { Basket } from "../../../../src/browser/till/sell/basket.ts";
import { startCustomerView } from "../../../../src/browser/till/sell/customer-view.ts";
import { show } from "../../../../src/browser/till/sell/dom.ts";
import { startSelling } from "../../../../src/browser/till/sell/start.ts";
import type { ReceiptMailFact } from "../../../../src/contract/receipt-mail.ts";
import type { CatalogueItem, TillSceneShown } from "../../../../src/contract/till-device.ts";
import { type ReceiptFact, receiptFact } from "../../../../src/contract/till-fact.ts";
import { pieceOf, sceneOf } from "../../../support/till-scene.ts";

/** The parts of a till in memory, for tests of the screen alone; it runs in the browser. */
const past: ReceiptFact[] = [];
const held: Awaited<ReturnType<TillParts["baskets"]["held"]>> = [];
const heard: ((state: TillState) => void)[] = [];

/** What a test can turn while the page is open. */
const knobs = {
  past,
  mails: [] as ReceiptMailFact[],
  refusal: undefined as string | undefined,
  soldElsewhere: [] as string[],
  /** What the server says of receipts, by their number on paper. */
  answers: {} as Record<string, ReceiptAnswer>,
  state: { online: true, unsent: 0, lastContact: new Date("2026-11-25T15:42:00Z") } as TillState,
  /** Another till's sale comes in with the list. */
  hearSold(tag: string) {
    goods.set(tag, { ...goods.get(tag)!, state: "sold", onFloor: 0, sold });
  },
  setState(next: Partial<TillState>) {
    Object.assign(knobs.state, next);
    for (const hear of heard) hear(knobs.state);
  },
};

const sold = { till: 3, receipt: "3-0017", at: "2026-11-25T15:40:00Z" };
const names = [
  "Indigo scarf",
  "Twill tea towel",
  "Four napkins, rosepath",
  "Wool throw",
  "Mug rug",
];
const goods = new Map<string, CatalogueItem>();
for (let item = 1; item <= 60; item += 1) {
  const piece = pieceOf(item, {
    description: names[item % names.length]!,
    price: 850 + item * 325,
    markdown: item % 2 === 0,
    ...(item % 5 === 4 ? { onFloor: 3, entered: 3 } : {}),
    ...(item % 5 === 2 ? { piecesInSet: 4 } : {}),
    ...(item === 50 ? { state: "sold" as const, onFloor: 0, sold } : {}),
    ...(item === 51 ? { state: "not-checked-in" as const, onFloor: 0 } : {}),
  });
  goods.set(piece.tag, piece);
}

function sell(facts: ReceiptFact[]): void {
  for (const { tag, quantity } of facts.flatMap(({ lines }) => lines)) {
    const piece = goods.get(tag);
    if (piece) goods.set(tag, { ...piece, onFloor: piece.onFloor - quantity });
  }
}

function fakeParts(scene: TillSceneShown, practice: boolean): TillParts {
  let current: Basket | undefined;
  return {
    ...{ shelfName: "fake", practice, state: knobs.state },
    scene: () => scene,
    onScene: () => () => {},
    goods: {
      find: (tag) => goods.get(tag),
      size: () => goods.size,
      at: () => new Date("2026-11-25T15:42:00Z"),
      onChange: () => () => {},
    },
    outbox: {
      async record(facts) {
        if (knobs.refusal) throw new Error(knobs.refusal);
        const done = facts.map((fact, at) =>
          receiptFact.parse({ ...fact, number: past.length + at + 7 }),
        );
        past.push(...done);
        sell(done);
        knobs.setState({ unsent: knobs.state.online ? 0 : knobs.state.unsent + done.length });
        return done;
      },
      recordMove: async () => {},
      recordMails: async (mails) => {
        if (knobs.refusal) throw new Error(knobs.refusal);
        knobs.mails.push(...mails);
      },
      unsent: () => knobs.state.unsent,
      lasting: () => !wanted.has("forgetful"),
      refusal: () => knobs.refusal,
      toFile: async () => ({ name: "till-2-unsent.json", text: JSON.stringify(past) }),
    },
    baskets: {
      current: async () => current,
      keep: async (basket) => {
        current = basket;
      },
      hold: async (basket, name, total) => {
        held.push({ id: basket.id, name, heldAt: new Date().toISOString(), total, basket });
      },
      held: async () => held,
      resume: async (id) => {
        const at = held.findIndex((one) => one.id === id);
        return at < 0 ? undefined : held.splice(at, 1)[0]?.basket;
      },
    },
    past: {
      newest: async (most) => past.toReversed().slice(0, most),
      find: async (id) => past.find((fact) => fact.id === id),
      numbered: async (number) => past.find((fact) => fact.number === number),
      withTag: async (tag) => past.filter(({ lines }) => lines.some((line) => line.tag === tag)),
      takenBack: async (id) => past.filter(({ reversesId }) => reversesId === id),
    },
    seat: { cashier: scene.cashiers[0]!, leave: () => {} },
    locked: () => false,
    onSeat: () => () => {},
    onState: (hear) => {
      heard.push(hear);
      return () => {};
    },
    line: {
      checkTags: async (tags) =>
        tags.flatMap((tag) => {
          const piece = goods.get(tag);
          return piece && knobs.soldElsewhere.includes(tag) ? [{ ...piece, sold }] : [];
        }),
      askReceipt: async (name) => knobs.answers[name] ?? { kind: "none" },
    },
  };
}

const wanted = new URLSearchParams(location.search);
const scene = sceneOf(JSON.parse(wanted.get("sale") ?? "{}"));
Object.assign(globalThis, { knobs });
if (wanted.get("view") === "customer") startCustomerView();
else void startSelling(fakeParts(scene, wanted.has("practice"))).then(() => show("selling", true));
