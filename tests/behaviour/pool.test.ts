/** How designs are shared out among threads: by years, and with the same figures as in one thread. */
import { readFileSync } from 'node:fs';
import { NOT_HARDER, type PossibleYear, readAxis } from '@longnight/core/study';
import { expect, it } from 'vitest';
import { playDesigns, yearPieces } from '../../packages/cli/src/workers/pool.ts';

const yearsUpTo = (count: number): PossibleYear[] =>
  Array.from({ length: count }, (_, k) => ({ kind: 'drawn', seed: k + 1 }));

it.each([
  [1, 100, 2],
  [10, 100, 2],
  [64, 100, 4],
  [64, 1, 4],
  [3, 7, 8],
])('%i designs with %i years keep %i threads busy, each year once', (designs, count, threads) => {
  const pieces = yearPieces(designs, yearsUpTo(count), threads);
  expect(pieces.flat()).toEqual(yearsUpTo(count));
  expect(Math.min(...pieces.map((years) => years.length))).toBeGreaterThan(0);
  expect(pieces.length).toBeGreaterThanOrEqual(Math.min(count, 2 * threads));
  for (const years of pieces) expect(years.length * designs).toBeLessThanOrEqual(Math.max(128, designs));
});

it('a run without years is one piece', () => {
  expect(yearPieces(64, [], 2)).toEqual([[]]);
});

it('years shared out among threads come back as one thread plays them', async () => {
  const file = 'data/demo/holds-with-generator.yaml';
  const task = {
    source: { text: readFileSync(file, 'utf8'), file, partsTexts: new Map() },
    texts: new Map(),
    axes: [readAxis('bank.modules_parallel=1,4'), readAxis('generator.start_soc=0.25,0.05')],
    years: yearsUpTo(5),
  };
  const played = async (threads: number) => {
    const deliveries = [];
    for await (const one of playDesigns(task, [0, 1, 2, 3], NOT_HARDER, threads)) deliveries.push(one);
    return deliveries;
  };
  const alone = await played(1);
  expect(alone[0]!.played.contradictions.map((why) => why === null)).toEqual([true, false, true, false]);
  expect(await played(2)).toEqual(alone);
}, 60_000);
