import { type BenchItem, type Hall, tillCount } from "./hall.ts";

/** What three pieces at 45.00 with 8.25 % tax come to. */
export const figures = { subtotal: 13_500, tax: 1_114, total: 14_614 };
export const lineTaxes = [372, 371, 371];

/** Each till has its own pieces, as in a hall where a piece is in one pair of hands. */
export function baskets({ items }: Hall): (till: number) => BenchItem[] {
  const perTill = Array.from({ length: tillCount }, (_, till) =>
    items.filter((_item, index) => index % tillCount === till),
  );
  const taken = perTill.map(() => 0);
  return (till) => {
    const own = perTill[till]!;
    const first = taken[till]!;
    taken[till] = first + 3;
    return [0, 1, 2].map((offset) => own[(first + offset) % own.length]!);
  };
}
