/**
 * What the process says when it ends. 3 is kept for work that is done and whose answer is no: a target that the user
 * asked for was missed, or the plant is a danger.
 */
export const EXIT = {
  ok: 0,
  ourFault: 1,
  badInput: 2,
  missedTarget: 3,
  danger: 3,
  interrupted: 130,
} as const;

/** Ends a command whose work is done, or was stopped, with a code of its own; the message goes to stderr as it is. */
export class Ending extends Error {
  readonly exitCode: number;
  constructor(exitCode: number, message: string) {
    super(message);
    this.exitCode = exitCode;
  }
}
