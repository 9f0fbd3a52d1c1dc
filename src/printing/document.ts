import PDFDocument from "pdfkit";

/** What a reader's window and print dialog say about the document. */
export interface DocumentFacts {
  title: string;
  author: string;
  createdAt: Date;
}

/** The parts of a pdfkit document that its types leave out. */
interface Catalogue {
  _root: { data: { ViewerPreferences: { data: Record<string, unknown> } } };
}

/**
 * A document without pages. Print dialogs are asked not to scale it, since labels must meet their
 * sheet to a tenth of a millimetre; the date is given so that the same input gives the same bytes.
 */
export function openDocument(facts: DocumentFacts): PDFKit.PDFDocument {
  const document = new PDFDocument({
    autoFirstPage: false,
    margin: 0,
    pdfVersion: "1.7",
    lang: "en",
    displayTitle: true,
    info: {
      Title: facts.title,
      Author: facts.author,
      Creator: "Thrumbook",
      Producer: "Thrumbook",
      CreationDate: facts.createdAt,
    },
  });
  const catalogue = document as unknown as Catalogue;
  catalogue._root.data.ViewerPreferences.data.PrintScaling = "None";
  return document;
}

/**
 * The bytes of the pages finished so far. Taking them page by page keeps a large file out of
 * memory.
 */
export function* writtenSoFar(document: PDFKit.PDFDocument): Generator<Uint8Array> {
  for (let part = document.read(); part !== null; part = document.read()) {
    yield new Uint8Array(part as Buffer);
  }
}

/** Ends the document and gives its bytes. */
export async function closeDocument(document: PDFKit.PDFDocument): Promise<Uint8Array> {
  const parts: Buffer[] = [];
  document.end();
  for await (const part of document) parts.push(part as Buffer);
  return new Uint8Array(Buffer.concat(parts));
}
