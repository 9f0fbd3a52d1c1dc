const lockName = "till";
const channelName = "till-guard";
/** How long the other tab has to let go by itself before its lock is taken away. */
const patience = 3_000;

export interface Guard {
  /** True when this tab may be the till; it stays so until `lost` is called. */
  enter(lost: () => void): Promise<boolean>;
  /** Asks the tab that is the till to let go, and becomes it. */
  takeOver(lost: () => void): Promise<boolean>;
}

/** Only one tab of a device is the till: two would show two baskets and send everything twice. */
export function openGuard(
  locks: LockManager = navigator.locks,
  channel: BroadcastChannel = new BroadcastChannel(channelName),
  wait = patience,
): Guard {
  function enter(lost: () => void, options: LockOptions): Promise<boolean> {
    return new Promise((entered, failed) => {
      let inside = false;
      const holding = locks.request(lockName, options, (lock) => {
        inside = lock !== null;
        entered(inside);
        if (!inside) return;
        return new Promise<void>((letGo) => {
          channel.onmessage = () => {
            letGo();
            lost();
          };
        });
      });
      // A lock that another tab took away ends here, also after this tab had been asleep.
      holding.catch((error: unknown) => {
        if (!isAbort(error)) failed(error);
        else if (inside) lost();
        else entered(false);
      });
    });
  }
  return {
    enter: (lost) => enter(lost, { ifAvailable: true }),
    async takeOver(lost) {
      // First in the queue, so that the other tab cannot come back before this one.
      const entered = enter(lost, { signal: AbortSignal.timeout(wait) });
      channel.postMessage("let go");
      return (await entered) || enter(lost, { steal: true });
    },
  };
}

const isAbort = (error: unknown): boolean =>
  ["AbortError", "TimeoutError"].includes((error as Error).name);
