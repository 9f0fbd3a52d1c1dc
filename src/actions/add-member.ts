import type { MemberInput } from "../contract/member.ts";
import { type Deed, perform } from "../database/perform.ts";
import { ok, type Result } from "../rules/problem.ts";
import { emailTaken, nextMemberNumbers } from "./guild-lock.ts";

/** Adds a member under the next number; a refusal uses none up. */
export const addMember = (
  deed: Deed,
  input: MemberInput,
): Promise<Result<{ id: string; number: number }>> =>
  perform(
    deed,
    "add-member",
    input,
    async (tx) => {
      const numbers = await nextMemberNumbers(tx, 1);
      if (!numbers.ok) return numbers;
      const number = numbers.value.first;
      const { id } = await tx.member.create({ data: { ...input, number } });
      return ok({ value: { id, number }, subjectId: id, detail: { number, roles: input.roles } });
    },
    emailTaken,
  );
