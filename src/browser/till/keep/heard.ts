/** Those who want to hear of something, told one after the other. */
export function listeners<T>() {
  const all = new Set<(news: T) => void>();
  return {
    tell(news: T): void {
      for (const hear of all) hear(news);
    },
    /** Returns what ends the listening. */
    add(hear: (news: T) => void): () => void {
      all.add(hear);
      return () => {
        all.delete(hear);
      };
    },
  };
}
