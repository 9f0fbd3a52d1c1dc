const places = [
  { href: "/guild", label: "Settings" },
  { href: "/guild/labels", label: "Labels" },
  { href: "/kinds", label: "Kinds of goods" },
  { href: "/audit", label: "Who did what" },
];

/** The pages about the guild itself, side by side. */
export const guildPlaces = (here: string) =>
  places.map((place) => ({ ...place, current: place.href === here }));
