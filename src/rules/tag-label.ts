/** What one tag says. All words and figures are ready to print. */
export interface TagLabel {
  /** 8 or 10 digits: what the bars carry. */
  tag: string;
  /** The same number as people read it, such as "123-456-76". */
  shownTag: string;
  description: string;
  size: string;
  fibreText: string;
  careText: string;
  price: string;
  memberNumber: string;
  quantityNote?: string;
  setNote?: string;
  /** Only for guilds that want the maker's name on the tag. */
  memberName?: string;
}
