interface Asked<Key, Answer> {
  key: Key;
  resolve(answer: Answer | undefined): void;
  reject(reason: unknown): void;
}

/** Two queries at once keep the database busy while the next batch gathers. */
const atOnce = 2;

/**
 * Answers what is asked at the same moment with one query. Nothing is kept: a question is always
 * answered by a query that starts after it was asked, so an answer is as fresh as without this.
 */
export function together<Key, Answer>(
  read: (keys: Key[]) => Promise<ReadonlyMap<Key, Answer>>,
): (key: Key) => Promise<Answer | undefined> {
  let gathered: Asked<Key, Answer>[] = [];
  let planned = false;
  let running = 0;

  const plan = () => {
    if (planned || running >= atOnce || gathered.length === 0) return;
    planned = true;
    // After this turn of the event loop every request that has arrived by now has asked.
    setImmediate(start);
  };
  const start = () => {
    planned = false;
    const batch = gathered;
    gathered = [];
    running += 1;
    read([...new Set(batch.map(({ key }) => key))])
      .then(
        (answers) => {
          for (const { key, resolve } of batch) resolve(answers.get(key));
        },
        (reason: unknown) => {
          for (const { reject } of batch) reject(reason);
        },
      )
      .finally(() => {
        running -= 1;
        plan();
      });
    plan();
  };

  return (key) =>
    new Promise((resolve, reject) => {
      gathered.push({ key, resolve, reject });
      plan();
    });
}

/** The same for each database of the process; tests have several. */
export function togetherFor<Owner extends object, Key, Answer>(
  read: (owner: Owner, keys: Key[]) => Promise<ReadonlyMap<Key, Answer>>,
): (owner: Owner, key: Key) => Promise<Answer | undefined> {
  const readers = new WeakMap<Owner, (key: Key) => Promise<Answer | undefined>>();
  return (owner, key) => {
    let reader = readers.get(owner);
    if (!reader) {
      reader = together((keys: Key[]) => read(owner, keys));
      readers.set(owner, reader);
    }
    return reader(key);
  };
}
