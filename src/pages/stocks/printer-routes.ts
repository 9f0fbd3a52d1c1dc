import { addPrinter, editPrinter, retirePrinter } from "../../actions/printers.ts";
import { type PrinterInput, printerShape } from "../../contract/label-stock.ts";
import { findPrinter, type PrinterRead } from "../../database/label-stocks.ts";
import { notFound, orRefuse } from "../../plugins/errors.ts";
import type { App, Reply, Request } from "../../plugins/types.ts";
import type { Problem, Result } from "../../rules/problem.ts";
import { readTypedNumber } from "../../rules/typed-number.ts";
import { type Fields, textOf, thousandthsOf, thousandthsText } from "../items/fields.ts";
import { readForm } from "../read-form.ts";
import { wantId } from "../want-id.ts";

type WithId = { Params: { id: string } };
const helps = { config: { access: ["desk", "chair"] as const } };

/** Printers by name, with how far each is off. */
export async function printerPages(app: App): Promise<void> {
  app.get("/printers/new", helps, async (request, reply) =>
    printerPage(request, reply, { values: { scaleX: "100", scaleY: "100" } }),
  );

  app.post("/printers", helps, async (request, reply) => {
    const read = readPrinter(request.body as Fields);
    const added = read.ok ? await addPrinter(request.deed(), read.value) : read;
    if (!added.ok)
      return printerPage(request, reply, {
        values: request.body as object,
        problem: added.problem,
      });
    return reply.seeOther("/stocks", { kind: "good", text: "The printer is kept." });
  });

  app.get<WithId>("/printers/:id", helps, async (request, reply) => {
    const printer = await knownPrinter(request);
    return printerPage(request, reply, { values: valuesOf(printer), printer });
  });

  app.post<WithId>("/printers/:id", helps, async (request, reply) => {
    const printer = await knownPrinter(request);
    const body = request.body as Fields;
    const read = readPrinter(body);
    const version = Number(/^\d{1,9}$/.exec(textOf(body, "version"))?.[0] ?? 0);
    const edited = read.ok
      ? await editPrinter(request.deed(), printer.id, { ...read.value, version })
      : read;
    if (!edited.ok)
      return printerPage(request, reply, { values: body, problem: edited.problem, printer });
    return reply.seeOther("/stocks", { kind: "good", text: "The change is kept." });
  });

  app.post<WithId>("/printers/:id/retirement", helps, async (request, reply) => {
    const id = wantId(request.params.id, "this printer");
    orRefuse(await retirePrinter(request.deed(), id));
    return reply.seeOther("/stocks", { kind: "good", text: "The printer is off the list." });
  });
}

async function knownPrinter(request: Request): Promise<PrinterRead> {
  const id = wantId((request.params as { id: string }).id, "this printer");
  const printer = await findPrinter(request.server.parts.db, id);
  if (!printer) throw notFound("this printer");
  return printer;
}

/** Nudges are typed in millimetres, with a minus to the left or up; scales in percent. */
function readPrinter(body: Fields): Result<PrinterInput> {
  const nudge = (name: string): unknown => {
    const text = textOf(body, name);
    if (text === "") return 0;
    const typed = readTypedNumber(text, 2);
    if (typeof typed === "string") return text;
    const figure = thousandthsOf(text.replace(/[-−–]/g, ""));
    return typed.negative ? -figure : figure;
  };
  const scale = (name: string): unknown => {
    const text = textOf(body, name).replace(/\s*%$/, "");
    return text === "" ? 1_000 : thousandthsOf(text) / 100;
  };
  const read = readForm(printerShape, {
    name: textOf(body, "name"),
    nudgeX: nudge("nudgeX"),
    nudgeY: nudge("nudgeY"),
    scaleX: scale("scaleX"),
    scaleY: scale("scaleY"),
  });
  return read.ok ? read : inMillimetres(read.problem);
}

/** The shape counts in thousandths; people type millimetres. */
const inMillimetres = (problem: Problem): Result<never> => ({
  ok: false,
  problem: {
    ...problem,
    errors: problem.errors.map(({ field, message }) => ({
      field,
      message: /thousandths of a millimetre/.test(message)
        ? "Type millimetres, such as 0.5 or -0.5."
        : /thousandths/.test(message)
          ? "Type percent, such as 100.5."
          : message,
    })),
  },
});

const signed = (figure: number): string =>
  `${figure < 0 ? "-" : ""}${thousandthsText(Math.abs(figure))}`;

const valuesOf = ({ name, nudgeX, nudgeY, scaleX, scaleY, version }: PrinterRead) => ({
  ...{ name, nudgeX: signed(nudgeX), nudgeY: signed(nudgeY), version: String(version) },
  scaleX: thousandthsText(scaleX * 100),
  scaleY: thousandthsText(scaleY * 100),
});

function printerPage(
  _request: Request,
  reply: Reply,
  { values, problem, printer }: { values: object; problem?: Problem; printer?: PrinterRead },
) {
  const data = {
    title: printer ? printer.name : "Add a printer",
    ...{ values, problem, printer, action: printer ? `/printers/${printer.id}` : "/printers" },
  };
  return reply.page("stocks/printer", data, problem?.status ?? 200);
}
