import { createHmac } from "node:crypto";
import pg from "pg";

const role = "thrumbook_app";

/** Any number does that no other lock of the service has. */
const roleLock = 7_450_003;

/**
 * The address at which the service works: as a role that reads and writes rows and owns nothing,
 * so that it can neither change a table nor switch a guard off. Its password comes from the owner's,
 * so that nothing more has to be kept. Where the owner may not make roles, or signs in without a
 * password, the service works as the owner, and only check-books would notice a guard that is off.
 */
export async function workingUrl(ownerUrl: string): Promise<string> {
  const url = new URL(ownerUrl);
  if (url.password === "") return ownerUrl;
  const password = createHmac("sha256", decodeURIComponent(url.password))
    .update(role)
    .digest("hex");
  const owner = new pg.Client({ connectionString: ownerUrl });
  await owner.connect();
  try {
    const { rows } = await owner.query<{ may: boolean }>(
      "SELECT rolsuper OR rolcreaterole AS may FROM pg_roles WHERE rolname = current_user",
    );
    if (!rows[0]?.may) return ownerUrl;
    await owner.query("SELECT pg_advisory_lock($1)", [roleLock]);
    await makeRole(owner);
    url.username = role;
    url.password = password;
    if (!(await opens(url.href)))
      await owner.query(`ALTER ROLE ${role} LOGIN PASSWORD '${password}'`);
    return url.href;
  } finally {
    await owner.end();
  }
}

/** Rows only: no table is its own, and what says which migrations ran is not to be changed. */
async function makeRole(owner: pg.Client): Promise<void> {
  await owner.query(`
    DO $$ BEGIN CREATE ROLE ${role} LOGIN; EXCEPTION WHEN duplicate_object OR unique_violation THEN NULL; END $$;
    GRANT USAGE ON SCHEMA public TO ${role};
    GRANT SELECT, INSERT, UPDATE, DELETE ON ALL TABLES IN SCHEMA public TO ${role};
    GRANT USAGE, SELECT, UPDATE ON ALL SEQUENCES IN SCHEMA public TO ${role};
    REVOKE INSERT, UPDATE, DELETE ON _prisma_migrations FROM ${role};`);
}

async function opens(url: string): Promise<boolean> {
  const client = new pg.Client({ connectionString: url });
  try {
    await client.connect();
    return true;
  } catch {
    return false;
  } finally {
    await client.end().catch(() => {});
  }
}
