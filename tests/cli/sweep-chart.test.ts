/** sweep.svg, and what is behind it: contours, levels, labels, and which figures get a panel. */
import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { Resvg } from '@resvg/resvg-js';
import { afterAll, describe, expect, test } from 'vitest';
import { contoursOf } from '../../packages/cli/src/render/drawing/contours.ts';
import { labeller } from '../../packages/cli/src/render/drawing/labels.ts';
import { levelsOf, NOTHING } from '../../packages/cli/src/render/drawing/levels.ts';
import { DEMO, longnight, removeFolder, temporaryFolder } from './support/process.ts';
import { GENERATOR } from './support/sweep.ts';

const folder = temporaryFolder();
afterAll(() => removeFolder(folder));

/** The chart of a sweep; it must be XML, stand alone and draw something. */
function chartOf(
  name: string,
  scenario: string,
  vary: readonly string[],
  more: readonly string[] = [],
): string {
  const out = join(folder, name);
  const ended = longnight([
    'sweep',
    scenario,
    ...vary.flatMap((axis) => ['--vary', axis]),
    ...more,
    '--out',
    out,
  ]);
  expect(ended.status).toBe(0);
  const svg = readFileSync(join(out, 'sweep.svg'), 'utf8');
  // The renderer refuses what is not well-formed; white alone would be an empty chart.
  const { pixels } = new Resvg(svg, { font: { loadSystemFonts: false } }).render();
  expect(pixels.filter((value) => value < 128).length).toBeGreaterThan(200);
  expect(svg).not.toMatch(/<script|href|url\((?!#)|@import|NaN|undefined|Infinity/);
  expect(svg.match(/https?:/g)).toEqual(['http:']);
  expect(svg).toMatch(/<title>[^<]+<\/title>\n<desc>[^<]+<\/desc>/);
  return svg;
}

/** Not by colour alone: every line has its label, the heavy border apart. */
function expectLabelled(svg: string): void {
  const within = (group: RegExp, mark: RegExp): number =>
    [...svg.matchAll(group)].flatMap(([, marks]) => [...marks!.matchAll(mark)]).length;
  const lines = within(/<g [^>]*stroke-width="0.9"[^>]*>([\s\S]*?)<\/g>/g, /<path d="[^"]*"\/>/g);
  const labels = within(/<g [^>]*paint-order="stroke">([\s\S]*?)<\/g>/g, /<text [^>]*>[\d.]+</g);
  expect(lines).toBeGreaterThan(4);
  expect(labels).toBe(lines);
}

const texts = (svg: string): string[] => [...svg.matchAll(/<text [^>]*>([^<]*)</g)].map(([, text]) => text!);

describe('two keys', () => {
  test('make two maps with labelled contours, the border of what holds, and the plant in the file', () => {
    const svg = chartOf('map', join(DEMO, 'short-of-bank.yaml'), [
      'arrays[0].size_kWp=2:30:4',
      'bank.modules_parallel=2:14:2',
    ]);
    const found = texts(svg);
    expect(found).toContain('Unmet energy, kWh');
    expect(found).toContain('Unmet hours, h');
    expect(found.filter((text) => text === 'array, lower ground row, south, kWp').length).toBe(2);
    expect(found.filter((text) => text === 'battery modules').length).toBe(2);
    expect(found.filter((text) => /White, within the heavy line: nothing goes unmet/.test(text)).length).toBe(
      2,
    );
    expectLabelled(svg);
    expect(svg.match(/<circle [^>]*r="7"/g)?.length).toBe(4);
  });

  test('mark what contradicts itself, and say in words what is the same everywhere', () => {
    const svg = chartOf('crosses', GENERATOR, [
      'generator.start_soc=0.15:0.6:0.05',
      'generator.stop_soc=0.3:0.9:0.1',
    ]);
    expectLabelled(svg);
    expect(svg).toContain('fill="#e4e6e8"');
    expect(texts(svg).join(' ')).toMatch(/In every design nothing goes unmet\./);
    expect(texts(svg).join(' ')).toMatch(/Crosses: 16 designs with values that contradict/);
    expect(texts(svg)).not.toContain('Unmet energy, kWh');
  });
});

describe('one key', () => {
  test('makes a panel for each figure that differs, a dot for each design', () => {
    const svg = chartOf('curve', join(DEMO, 'parts-with-generator.yaml'), ['arrays[0].panels=6:24:6']);
    const found = texts(svg);
    expect(found).toContain('Generator run time, h');
    expect(found).toContain('Capital, crowns');
    expect(found).not.toContain('Unmet energy, kWh');
    expect(found.join(' ')).toMatch(/the file has 14/);
    const panels = found.filter((text) => /run time|SoC|Capital|Cost/.test(text)).length;
    expect(found.filter((text) => text === 'panels, ground row, south').length).toBe(panels);
    expect(svg.match(/h0/g)?.length).toBe(4 * panels);
  });

  test('is not joined by a line where it is a seed, nor across a design that was not played', () => {
    const seeds = chartOf('seeds', join(DEMO, 'short-of-bank.yaml'), ['weather.seed=1:6:1']);
    expect(seeds).not.toMatch(/class="line e-/);
    const gap = chartOf('gap', GENERATOR, ['generator.start_soc=0.2,0.3,0.79,0.85,0.4']);
    expect(gap.match(/l8 8m0 -8l-8 8/g)?.length).toBe(2);
    expect(gap).toMatch(/class="line e-engine"/);
    expect(texts(gap).join(' ')).toMatch(/Crosses:/);
  });
});

test('a name from the file can not break the drawing', () => {
  const scenario = join(folder, 'named.yaml');
  const name = `"<b>&'\\u0007 </title><script>"`;
  const text = readFileSync(GENERATOR, 'utf8').replace('Tolvmyr field station (invented)', name);
  expect(text).toContain(name);
  writeFileSync(scenario, text);
  const svg = chartOf('named', scenario, ['arrays[0].size_kWp=4,8']);
  expect(svg).toContain('&#60;b&#62;&#38;&#39;');
});

test('a chart of an earlier sweep is not left beside rows that have none', () => {
  const out = join(folder, 'stale');
  const sweep = (...more: string[]) => longnight(['sweep', GENERATOR, '--out', out, ...more]);
  sweep('--vary', 'arrays[0].size_kWp=4,8');
  const ended = sweep('--vary', 'bank.chemistry=lfp,lead_acid');
  expect(ended.stderr).toMatch(/no chart: .*names[\s\S]*sweep\.svg of an earlier run was removed/);
  expect(ended.stdout).toMatch(/^Files: sweep\.csv, sweep\.html in /m);
});

describe('contours', () => {
  // Over a plane the contour of a value is the straight line where the plane has it, whatever the spacing.
  test('of a plane lie where it has their value', () => {
    const x = [0, 1, 3, 7, 8];
    const y = [10, 12, 13, 20];
    const field = Float64Array.from(y.flatMap((b) => x.map((a) => 2 * a + b)));
    const found = contoursOf(field, x, y, [14, 20, 30]);
    for (const { value, lines } of found) {
      const points = lines.flat();
      expect(points.length).toBeGreaterThan(1);
      for (const [a, b] of points) {
        expect(2 * a + b).toBeCloseTo(value, 9);
        expect(a).toBeGreaterThanOrEqual(-1e-9);
        expect(a).toBeLessThanOrEqual(8 + 1e-9);
        expect(b).toBeGreaterThanOrEqual(10 - 1e-9);
        expect(b).toBeLessThanOrEqual(20 + 1e-9);
      }
    }
  });

  test('close around a peak, and pass over a gap', () => {
    const size = 7;
    const field = Float64Array.from(
      { length: size * size },
      (_, k) => 9 - Math.hypot((k % size) - 3, Math.floor(k / size) - 3),
    );
    const nodes = Array.from({ length: size }, (_, k) => k);
    const [ring] = contoursOf(field, nodes, nodes, [7.5]);
    expect(ring!.lines.length).toBe(1);
    expect(ring!.lines[0]![0]).toEqual(ring!.lines[0]!.at(-1));
    field[0] = Number.NaN;
    expect(contoursOf(field, nodes, nodes, [7.5])).toEqual([ring]);
  });
});

describe('levels', () => {
  test('are round, within the field, and few', () => {
    const fields: number[][] = [
      [0, 0, 3, 90, 151],
      [118, 140, 206],
      [9, 30, 282],
      [0.002, 0.4, 7],
      [0, 1e-9, 2e4],
      [47.1, 47.2, 47.3],
    ];
    for (const field of fields) {
      const { border, lines } = levelsOf(Float64Array.from(field));
      expect(border).toBe(Math.min(...field) <= NOTHING);
      expect(lines.length).toBeGreaterThanOrEqual(2);
      expect(lines.length).toBeLessThanOrEqual(9);
      expect(lines).toEqual([...lines].sort((a, b) => a - b));
      for (const line of lines) {
        expect(line).toBeGreaterThan(Math.min(...field));
        expect(line).toBeLessThan(Math.max(...field));
        expect(
          String(Number(line.toPrecision(12)))
            .replace(/[.\-e]/g, '')
            .replace(/^0+|0+$/g, '').length,
        ).toBeLessThanOrEqual(4);
      }
    }
  });
  test('of a field of nothing are none', () => {
    expect(levelsOf(new Float64Array(9))).toEqual({ border: false, lines: [] });
    expect(levelsOf(new Float64Array(9).fill(Number.NaN))).toEqual({ border: false, lines: [] });
  });
});

test('labels keep within the frame and off each other, and are never upside down', () => {
  const label = labeller({ left: 0, top: 0, right: 400, bottom: 300 }, [{ x: 200, y: 150, radius: 12 }]);
  const lines = Array.from({ length: 8 }, (_, k) =>
    Array.from({ length: 30 }, (_, n) => [n * 13, 20 + k * 34 + 12 * Math.sin(n / 3 + k)] as const).reverse(),
  );
  const places = lines.map((line) => label([line], '1500')!);
  expect(places.every((place) => place !== null)).toBe(true);
  places.forEach((a, k) => {
    expect(a.x).toBeGreaterThan(16);
    expect(a.x).toBeLessThan(384);
    expect(Math.abs(a.turn)).toBeLessThanOrEqual(90);
    expect(Math.hypot(a.x - 200, a.y - 150)).toBeGreaterThan(30);
    for (const b of places.slice(k + 1)) expect(Math.hypot(a.x - b.x, a.y - b.y)).toBeGreaterThan(30);
  });
});
