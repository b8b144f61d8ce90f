/** What the process says when it ends. 3 is kept for a target that the user asked for and that was missed. */
export const EXIT = { ok: 0, ourFault: 1, badInput: 2, missedTarget: 3 } as const;
