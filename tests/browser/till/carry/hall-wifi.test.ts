import { v7 } from "uuid";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { startApp, type TestApp } from "../../../support/app.ts";
import { buildHall, buildPieces } from "../../../support/build-till.ts";
import { type Air, lineTo } from "../../../support/cut-line.ts";
import { expectSound } from "../../../support/sound.ts";
import type { Hall } from "../../../support/till-device.ts";
import { tillOnLine } from "../till-on-line.ts";

let base: TestApp;
let hall: Hall;
let line: Awaited<ReturnType<typeof lineTo>>;
beforeAll(async () => {
  base = await startApp();
  hall = await buildHall(base.db, 4);
  const { port } = base.app.server.address() as { port: number };
  line = await lineTo(port);
});
afterEach(() => line.mend());
afterAll(async () => {
  await line?.close();
  await base?.close();
});

const pieces = (count: number) =>
  buildPieces(base.db, hall.sale, hall.weaver, Array(count).fill({ price: 900 }));

test("an answer that is lost after the books have the sale: the stored answer comes, and one sale", async () => {
  const seller = hall.tills[0]!;
  const till = await tillOnLine(base, hall, seller, line.url);
  const [piece] = await pieces(1);
  line.become({ delay: 0, fate: () => "answer lost" });
  const id = await till.sell(piece!);
  await till.outbox.recordMove({
    ...{ id: v7(), madeAt: new Date().toISOString(), tillSessionId: seller.sessionId },
    ...{ cashierId: hall.cashier.id, kind: "to-safe", amount: 500, counts: [], reason: "" },
  });
  for (let round = 0; round < 2; round += 1) {
    await till.push.now();
    expect([till.outbox.unsent(), till.state.now().online]).toEqual([2, false]);
    await expectSound(base.db, [id]);
  }
  line.mend();
  await till.push.now();
  till.push.stop();
  expect(till.replies.at(-1)).toMatchObject({
    body: { answers: [{ id, recorded: "before", notes: [] }, { recorded: "before" }] },
  });
  expect(till.outbox.unsent()).toBe(0);
  expect(await base.db.cashMove.count()).toBe(1);
  await expectSound(base.db, [id]);
});

/** Three of ten requests are lost, one of them only after it arrived, and each way takes 400 ms. */
function hallAir(): { air: Air; met: Set<string> } {
  const met = new Set<string>();
  let asked = 0;
  const fate = () => {
    asked += 1;
    const now = asked % 10 === 2 ? "answer lost" : [5, 9].includes(asked % 10) ? "lost" : "good";
    met.add(now);
    return now;
  };
  return { air: { delay: 400, fate }, met };
}

test("over the wifi of a hall, and without it, every till keeps selling and all of it lands once", async () => {
  const [onBadLine, offLine] = [5, 4];
  const sellers = hall.tills.slice(1);
  const tills = await Promise.all(
    sellers.map((seller) => tillOnLine(base, hall, seller, line.url)),
  );
  const stock = await pieces(sellers.length * (onBadLine + offLine));
  const { air, met } = hallAir();
  line.become(air);
  const sellSome = (count: number) =>
    Promise.all(
      tills.map(async (till) => {
        const ids = [];
        for (let sale = 0; sale < count; sale += 1) {
          ids.push(await till.sell(stock.pop()!));
          await till.push.now();
        }
        return ids;
      }),
    );
  const sold = (await sellSome(onBadLine)).flat();
  line.cut();
  sold.push(...(await sellSome(offLine)).flat());
  for (const till of tills) {
    expect(till.outbox.unsent()).toBeGreaterThanOrEqual(offLine);
    expect([till.outbox.refusal(), till.state.now().online]).toEqual([undefined, false]);
  }
  line.mend();
  line.become(air);
  for (let round = 0; round < 20 && tills.some(({ outbox }) => outbox.unsent() > 0); round += 1)
    await Promise.all(tills.map(({ push }) => push.now()));
  for (const { push } of tills) push.stop();
  expect(tills.map(({ outbox }) => outbox.unsent())).toEqual([0, 0, 0]);
  expect([...met].sort()).toEqual(["answer lost", "good", "lost"]);
  await expectSound(base.db, sold);
  const stored = await base.db.receipt.findMany({
    where: { tillId: { in: sellers.map(({ id }) => id) } },
    orderBy: [{ till: { number: "asc" } }, { number: "asc" }],
  });
  const series = Array.from({ length: onBadLine + offLine }, (_, at) => at + 1);
  expect(stored.map(({ number }) => number)).toEqual(sellers.flatMap(() => series));
});
