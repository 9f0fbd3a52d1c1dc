import { planShifts, previewShifts } from "../../actions/shifts/plan-many.ts";
import { planShift } from "../../actions/shifts/plan-shift.ts";
import { shiftListShape } from "../../contract/shift.ts";
import { findShift } from "../../database/shifts.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { type Fields, textOf } from "../items/fields.ts";
import { readForm } from "../read-form.ts";
import { readShift } from "./form.ts";
import { keepers, shiftsOf, type WithSale } from "./scene.ts";

/** Planning shifts, one by one or as rows pasted from a spreadsheet. */
export async function planPages(app: App): Promise<void> {
  app.get<WithSale>("/sales/:id/shifts/new", keepers, async (request, reply) => {
    const { sale } = await shiftsOf(request);
    return newPage(request, reply, { day: sale.firstDay });
  });

  app.post<WithSale>("/sales/:id/shifts", keepers, async (request, reply) => {
    const { sale, guild, path } = await shiftsOf(request);
    const fields = request.body as Fields;
    const read = readShift(fields, guild);
    const done = read.ok ? await planShift(request.deed(), sale.id, read.value) : read;
    if (!done.ok) return newPage(request, reply, request.body as object, done.problem);
    const shift = await findShift(app.parts.db, done.value.id);
    const text = `The shift of ${shift?.memberName ?? "the member"} is planned.`;
    const next = textOf(fields, "go") === "another" ? `${path}/new` : `${path}?show=all`;
    return reply.seeOther(next, { kind: "good", text });
  });

  await app.register(manyPages);
}

async function manyPages(app: App): Promise<void> {
  const { db } = app.parts;

  app.get<WithSale>("/sales/:id/shifts/many", keepers, async (request, reply) =>
    manyPage(request, reply),
  );

  app.post<WithSale>("/sales/:id/shifts/many", keepers, async (request, reply) => {
    const { sale, path } = await shiftsOf(request);
    const read = readForm(shiftListShape, request.body);
    const preview = read.ok ? await previewShifts(db, sale, read.value.text) : read;
    if (!preview.ok) return manyPage(request, reply, preview.problem);
    const { rows, good, bad } = preview.value;
    return reply.page("shifts/preview", {
      title: "Check the rows",
      ...{ sale, path, rows, good, bad },
      rows: rows.map((row) => ({ ...row, why: row.problems.join(". ") })),
      label: good === 1 ? "Plan 1 shift" : `Plan ${good} shifts`,
      values: { text: read.ok ? read.value.text : "" },
    });
  });

  app.post<WithSale>("/sales/:id/shifts/many/apply", keepers, async (request, reply) => {
    const { sale, path } = await shiftsOf(request);
    const read = readForm(shiftListShape, request.body);
    const given = { saleId: sale.id, text: read.ok ? read.value.text : "" };
    const done = read.ok ? await planShifts(request.deed(), given) : read;
    if (!done.ok) return manyPage(request, reply, done.problem);
    const { planned, skipped } = done.value;
    const came = planned === 1 ? "1 shift is planned." : `${planned} shifts are planned.`;
    const left = skipped === 0 ? "" : ` Rows left out: ${skipped}.`;
    return reply.seeOther(`${path}?show=all`, { kind: "good", text: came + left });
  });
}

async function newPage(request: Request, reply: Reply, values: object, problem?: Problem) {
  const { sale, path } = await shiftsOf(request);
  const data = { title: "Plan a shift", sale, path, values, problem };
  return reply.page("shifts/new", data, problem?.status ?? 200);
}

async function manyPage(request: Request, reply: Reply, problem?: Problem) {
  const { sale, path } = await shiftsOf(request);
  const values = problem ? request.body : {};
  const data = { title: "Plan many shifts", sale, path, values, problem };
  return reply.page("shifts/many", data, problem?.status ?? 200);
}
