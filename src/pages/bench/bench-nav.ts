/** The rooms of a member's bench, as the line of links at the head of each. */
const rooms = [
  { href: "/bench", label: "Warp sheets" },
  { href: "/bench/price", label: "Price help" },
  { href: "/bench/sold", label: "What sold" },
  { href: "/bench/elsewhere", label: "Sold elsewhere" },
] as const;

export type BenchRoom = (typeof rooms)[number]["href"];

export const benchNav = (current: BenchRoom) =>
  rooms.map((room) => ({ ...room, current: room.href === current }));
