import type { Role } from "../../rules/roles.ts";
import type { Dice } from "./dice.ts";

/** An invented guild; no person or place of these names is meant. */
export const guild = {
  name: "Alder Creek Weavers",
  address: "The Mill Room, 4 Sluice Lane\nAlder Creek",
  currency: "USD",
  locale: "en-US",
  timeZone: "America/Chicago",
};

const first =
  "Hazel Marta Ines Orla Greta Yvonne Tamsin Bettina Ruth Solveig Anneke Pilar Noor Wilma Edith Juno Freya Lotte Mabel Clement Ansel Ivo Rufus Odile Nell Petra Dagny Sunniva Elspeth Cora Thea Linnea Magda Winifred Aurelie Jonas Bram Opal Selma Vera Hedda Tove Ginevra Posy".split(
    " ",
  );
const last =
  "Rook Fennel Larkspur Quill Thistle Marrow Sedge Birch Tansy Heron Wicker Moss Alder Bramble Fescue Linden Plover Rowan Sorrel Teasel Umber Vetch Willow Yarrow Bracken Curlew Dunnock Elder Finch Gorse Harrow Juniper Kestrel Lovage Mallow Nettle Osier Pippin Reed Sallow Tern Wren Bittern Clover".split(
    " ",
  );

export interface Person {
  name: string;
  email: string;
  phone: string;
  roles: Role[];
}

/** Who holds which role; the first one sets the guild up and so is the chair. */
const roleOf: Record<number, Role[]> = {
  0: ["member", "chair"],
  1: ["member", "treasurer"],
  2: ["member", "desk"],
  3: ["member", "cashier"],
  4: ["member"],
  5: ["member", "cashier"],
  6: ["member", "desk", "cashier"],
};

export const people = (dice: Dice): Person[] =>
  first.map((name, index) => {
    const family = last[index] as string;
    return {
      name: `${name} ${family}`,
      email: `${name}.${family}@example.org`.toLowerCase(),
      phone: `555-01${String(dice.between(0, 99)).padStart(2, "0")}`,
      roles: roleOf[index] ?? ["member"],
    };
  });
