import { processIo } from './io.ts';
import { runProgram } from './program.ts';

// exitCode and not exit(): what is still in the pipes must get out first.
process.exitCode = await runProgram(process.argv.slice(2), processIo());
