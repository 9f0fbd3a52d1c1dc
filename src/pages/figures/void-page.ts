import type { Request } from "../../plugins/types.ts";
import type { Problem } from "../../rules/problem.ts";
import { saleNamed } from "../books/scene.ts";
import { wantId } from "../want-id.ts";

interface Voided {
  /** Where the list stands under the sale's books: "deposits". */
  list: string;
  /** "this deposit", for one that is not there. */
  what: string;
  title: string;
  back: string;
}

/** Asks why something that was typed in about the bank is void. */
export async function voidPage(
  request: Request,
  { list, what, title, back }: Voided,
  problem?: Problem,
) {
  const { saleId, id } = request.params as { saleId: string; id: string };
  const sale = await saleNamed(request, saleId);
  const backHref = `/books/${sale.id}/${list}`;
  return {
    ...{ title, backHref, back },
    action: `${backHref}/${wantId(id, what)}/void`,
    values: problem ? request.body : undefined,
    problem,
  };
}
