import { startCellTable } from "./many/cell-table.ts";

const table = document.querySelector<HTMLTableElement>("table[data-cells]");
const said = document.querySelector<HTMLElement>(".many-said");
const undo = document.querySelector<HTMLButtonElement>(".many-undo");
const help = document.querySelector<HTMLElement>(".many-help");

if (table && said && undo) {
  const rows = [...(table.tBodies[0]?.rows ?? [])].map((row) => [...row.querySelectorAll("input")]);
  startCellTable({ rows, said, undo, more: document.querySelector<HTMLElement>(".many-more") });
  if (help) help.hidden = false;
}
