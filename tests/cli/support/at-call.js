/**
 * Loaded before the program (`--import`): its own death, or the disk's refusal, at a call that a test chooses. Only calls
 * that change what is under AT_UNDER are counted.
 *
 * AT_KILL=N: SIGKILL before the Nth of them. AT_REFUSE=NAME: every rename onto that name fails as for a busy file.
 * AT_COUNT=FILE: how many there were.
 */
import fs from 'node:fs';
import { syncBuiltinESMExports } from 'node:module';
import { isMainThread } from 'node:worker_threads';

const { AT_UNDER, AT_KILL, AT_REFUSE, AT_COUNT } = process.env;
let count = 0;
const write = fs.writeFileSync;
for (const name of ['mkdirSync', 'writeFileSync', 'appendFileSync', 'renameSync', 'rmSync', 'rmdirSync']) {
  const real = fs[name];
  fs[name] = (path, ...rest) => {
    if (isMainThread && String(path).startsWith(AT_UNDER)) {
      count++;
      if (AT_KILL !== undefined && count === Number(AT_KILL)) {
        process.kill(process.pid, 'SIGKILL');
        for (;;);
      }
      if (AT_REFUSE !== undefined && name === 'renameSync' && String(rest[0]) === AT_REFUSE)
        throw Object.assign(new Error(`EBUSY: rename ${path}`), {
          code: 'EBUSY',
          syscall: 'rename',
          path,
          dest: rest[0],
        });
    }
    return real(path, ...rest);
  };
}
syncBuiltinESMExports();
if (AT_COUNT !== undefined) process.on('exit', () => write(AT_COUNT, String(count)));
