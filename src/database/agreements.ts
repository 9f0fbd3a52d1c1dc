import type { Database } from "./client.ts";

export interface AgreementRead {
  version: number;
  text: string;
  createdAt: string;
  /** When the member who asks accepted this version. */
  acceptedAt: string | null;
  /** How many members accepted this version. */
  accepted: number;
}

/** The wording of a sale that stands now; null for an unknown sale. */
export async function standingAgreement(
  db: Database,
  saleId: string,
  memberId: string,
): Promise<AgreementRead | null> {
  const sale = await db.sale.findUnique({ where: { id: saleId } });
  if (!sale) return null;
  const version = sale.agreementVersion;
  const agreement = await db.agreement.findUniqueOrThrow({
    where: { saleId_version: { saleId, version } },
  });
  const own = await db.acceptance.findUnique({
    where: { saleId_version_memberId: { saleId, version, memberId } },
  });
  return {
    version,
    text: agreement.text,
    createdAt: agreement.createdAt.toISOString(),
    acceptedAt: own?.at.toISOString() ?? null,
    accepted: await db.acceptance.count({ where: { saleId, version } }),
  };
}
