export interface ShellWorker {
  /** Lets a new version take over if one waits and nothing is under way. */
  look(): void;
}

const lookEvery = 60_000;

/**
 * Installs the worker that opens this page without a network. A new version of the page waits until
 * `idle` says that no customer, no unsent receipt and no cashier is there; then the page starts anew.
 */
export async function installShell(
  idle: () => Promise<boolean>,
  container: ServiceWorkerContainer | undefined = navigator.serviceWorker,
): Promise<ShellWorker> {
  const none: ShellWorker = { look: () => {} };
  if (!container) return none;
  // The first worker takes over a page that is of its own version already.
  let known = container.controller !== null;
  container.addEventListener("controllerchange", () => {
    if (known) location.reload();
    known = true;
  });
  const options = { scope: "/till/", updateViaCache: "none" } as const;
  const installed = await container
    .register("/till/service-worker.js", options)
    .catch(() => container.getRegistration("/till/"));
  if (!installed) return none;
  const look = async () => {
    if (!installed.waiting || !(await idle())) return;
    installed.waiting?.postMessage("take over");
  };
  installed.addEventListener("updatefound", () => {
    installed.installing?.addEventListener("statechange", () => void look());
  });
  setInterval(() => {
    void installed.update().catch(() => undefined);
    void look();
  }, lookEvery);
  void look();
  return { look: () => void look() };
}
