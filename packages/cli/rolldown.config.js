import { execFileSync } from 'node:child_process';
import { chmodSync, existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { defineConfig } from 'rolldown';

/** The folder of the package a bundled module came from, or null for our own sources. */
function packageFolder(moduleId) {
  if (!/[\\/]node_modules[\\/]/.test(moduleId)) return null;
  let folder = dirname(moduleId.split('?')[0]);
  while (folder !== dirname(folder)) {
    const manifest = join(folder, 'package.json');
    // Nested manifests that only say "type" carry no name and are not the package.
    if (existsSync(manifest) && JSON.parse(readFileSync(manifest, 'utf8')).name) return folder;
    folder = dirname(folder);
  }
  return null;
}

/** Data that the code was made from ask for it too. */
const DATA = `Borders of time zones in @photostructure/tz-lookup

Contains information from OpenStreetMap, © OpenStreetMap contributors, by timezone-boundary-builder, which is made
available under the Open Database License (ODbL) 1.0, https://opendatacommons.org/licenses/odbl/1-0/.
`;

/** The licences of what is bundled ask that their text travels with the copy. */
const thirdPartyNotices = {
  name: 'third-party-notices',
  generateBundle(_options, bundle) {
    const folders = new Set();
    for (const chunk of Object.values(bundle))
      if (chunk.type === 'chunk')
        for (const id of chunk.moduleIds) {
          const folder = packageFolder(id);
          if (folder) folders.add(folder);
        }
    const notices = [...folders].map((folder) => {
      const manifest = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
      const licence = readdirSync(folder).find((file) => /^licen[cs]e/i.test(file));
      if (!licence) this.warn(`no licence file in ${manifest.name}`);
      const text = licence ? readFileSync(join(folder, licence), 'utf8').trim() : (manifest.license ?? '');
      return `${manifest.name} ${manifest.version}\n\n${text}\n`;
    });
    this.emitFile({
      type: 'asset',
      fileName: 'THIRD-PARTY.txt',
      source: [...notices.sort(), DATA].join(`\n${'-'.repeat(78)}\n\n`),
    });
  },
};

/** A bin that is run from the folder, not installed, needs the bit itself. */
const executableBin = {
  name: 'executable-bin',
  writeBundle({ dir }) {
    chmodSync(join(dir, 'longnight.js'), 0o755);
  },
};

/** What editors check files by, said by the program that was just built: the two can't differ. */
const jsonSchemas = {
  name: 'json-schemas',
  writeBundle({ dir }) {
    for (const file of ['scenario', 'parts']) {
      const text = execFileSync(process.execPath, [join(dir, 'longnight.js'), 'schema', file]);
      writeFileSync(join(dir, `${file}.schema.json`), text);
    }
  },
};

const NEEDED_AT_ONCE = /[\\/]cli[\\/](package\.json|src[\\/](exit-codes|io)\.ts)$/;

export default defineConfig({
  input: {
    longnight: join(import.meta.dirname, 'src/main.ts'),
    // Threads start from a file of their own; they share the chunks of the program.
    worker: join(import.meta.dirname, 'src/workers/worker.ts'),
  },
  platform: 'node',
  // The private condition reads core from its sources, so that no stale build of it can get in.
  resolve: { conditionNames: ['@longnight/source', 'import', 'node', 'default'] },
  output: {
    dir: join(import.meta.dirname, 'dist'),
    format: 'esm',
    minify: true,
    banner: (chunk) => (chunk.name === 'longnight' ? '#!/usr/bin/env node' : ''),
    entryFileNames: '[name].js',
    chunkFileNames: '[name]-[hash].js',
    // What commands share is read as one file: some fifty small ones take longer. `--help` needs none of it.
    codeSplitting: { groups: [{ name: 'shared', minShareCount: 3, test: (id) => !NEEDED_AT_ONCE.test(id) }] },
    cleanDir: true,
  },
  plugins: [thirdPartyNotices, executableBin, jsonSchemas],
});
