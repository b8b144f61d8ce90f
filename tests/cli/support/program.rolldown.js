import { join } from 'node:path';
import shipped from '../../../packages/cli/rolldown.config.js';

const src = join(import.meta.dirname, '../../../packages/cli/src');

/** What ships, entered one step further in: at `runProgram` and not at the process around it. */
export default {
  ...shipped,
  input: { program: join(src, 'program.ts'), worker: shipped.input.worker },
  plugins: [],
};
