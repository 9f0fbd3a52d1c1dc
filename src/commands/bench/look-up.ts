import { startChild } from "./child.ts";
import { openHall } from "./hall.ts";
import { load } from "./http-load.ts";
import { type BenchResult, inTurn } from "./rounds.ts";

const rounds = 5;
const connections = 64;

/**
 * A tag at the till, its session checked and its state read afresh each time, against a bare
 * Fastify route that answers a fixed text of the same length.
 */
export async function benchLookUp(seconds: number, itemCount = 6_000): Promise<BenchResult> {
  const hall = await openHall(itemCount);
  const bare = await startChild("./bare-route.ts", {});
  try {
    let asked = 0;
    const headers = { authorization: `Bearer ${hall.token}` };
    const call = () => {
      asked += 1;
      const { tag } = hall.items[asked % hall.items.length]!;
      return {
        method: "GET" as const,
        path: `/api/sales/${hall.saleId}/till-items/${tag}`,
        headers,
      };
    };
    const run = async (address: string) => {
      const { perSecond, others } = await load(
        address,
        connections,
        seconds / (2 * rounds + 2),
        call,
      );
      if (others > 0) throw new Error(`${others} look-ups of the bench were refused.`);
      return perSecond;
    };
    const name = `tag look-up, ${itemCount} items`;
    return await inTurn(
      name,
      rounds,
      () => run(hall.address),
      () => run(bare.address),
    );
  } finally {
    await bare.stop();
    await hall.close();
  }
}
