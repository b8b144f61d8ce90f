/** The worked plants of data/plants, played whole: each does what its comment says, and the books balance. */
import { readdirSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { findings, plantOf, playYear, prepareYear, type Report, readScenario } from '@longnight/core';
import { describe, expect, it } from 'vitest';

const FOLDER = resolve(import.meta.dirname, '../../data/plants');
const textOf = (name: string): string => readFileSync(join(FOLDER, name), 'utf8');

function reportOf(text: string): Report {
  const read = readScenario(text, 'plant.yaml');
  const year = prepareYear(read, 'plant.yaml', new Map());
  const plant = plantOf(read.scenario);
  return findings(year, plant, playYear(year, plant));
}

/** The text with a part of it replaced; the part must be there. */
function swap(text: string, from: string | RegExp, to: string): string {
  const swapped = text.replace(from, to);
  expect(swapped).not.toBe(text);
  return swapped;
}

describe('every worked plant', () => {
  for (const name of readdirSync(FOLDER)) {
    it(`${name} balances in every step`, () => {
      const report = reportOf(textOf(name));
      expect(report.audit.largest_imbalance_kWh).toBeLessThan(1e-9);
      expect(report.load.served_kWh).toBeGreaterThan(0);
    });
  }
});

describe('mobile.yaml', () => {
  const report = reportOf(textOf('mobile.yaml'));

  it('is capped by its one module, not by its inverter: 100 A at 25.6 V', () => {
    expect(report.limits.ac_output.figure_kW).toBeCloseTo(2.56, 12);
    expect(report.limits.ac_output.limits[0]!.what).toContain('bank discharge current');
  });

  it('lives on socket and engine in winter: without them more goes unserved', () => {
    expect(report.shore!.energy_kWh).toBeGreaterThan(0);
    expect(report.engine_charging!.energy_kWh).toBeGreaterThan(0);
    const bare = swap(textOf('mobile.yaml'), /\nshore:[\s\S]*?(?=\nloads:)/, '\n');
    expect(reportOf(bare).unmet.energy_kWh).toBeGreaterThan(report.unmet.energy_kWh);
  });

  it('counts on the socket only in hours that it is there for wholly: 19:30 to 08:30 is 20 to 8', () => {
    const halves = swap(textOf('mobile.yaml'), /windows: \["19:00-09:00"\]/, 'windows: ["19:30-08:30"]');
    const whole = swap(textOf('mobile.yaml'), /windows: \["19:00-09:00"\]/, 'windows: ["20:00-08:00"]');
    expect(reportOf(halves).shore).toEqual(reportOf(whole).shore);
    expect(reportOf(halves).shore!.energy_kWh).toBeLessThan(report.shore!.energy_kWh);
  });

  it('sheds the plate of tier 2 on purpose, so that the first tier keeps more', () => {
    expect(report.unmet.by_cause_kWh.shed).toBeGreaterThan(0);
    const unshed = reportOf(swap(textOf('mobile.yaml'), /\nshedding:[\s\S]*?(?=\nrun:)/, '\n'));
    const first = (r: Report): number => r.load.by_tier[0]!.unmet_kWh;
    expect(first(report)).toBeLessThan(first(unshed));
  });
});

describe('cold-cabin.yaml', () => {
  const report = reportOf(textOf('cold-cabin.yaml'));
  const bare = reportOf(swap(textOf('cold-cabin.yaml'), /\n {2}heater:.*/, ''));

  it('pays for its heaters in kWh and gets them back in hours of light', () => {
    expect(report.losses.heater_kWh).toBeGreaterThan(0);
    expect(bare.losses.heater_kWh).toBe(0);
    expect(report.bank.hours_too_cold_to_charge).toBeLessThan(bare.bank.hours_too_cold_to_charge / 2);
    expect(bare.array.curtailed_by_cause_kWh.bank_cold).toBeGreaterThan(
      report.array.curtailed_by_cause_kWh.bank_cold,
    );
    expect(bare.unmet.by_cause_kWh.bank_cold).toBeGreaterThan(0);
    expect(bare.unmet.energy_kWh).toBeGreaterThan(report.unmet.energy_kWh);
  });
});

describe('one-module.yaml (common practice, no source)', () => {
  const caps = (modules: number): (number | null)[] => {
    const { limits } = reportOf(
      swap(
        `${textOf('one-module.yaml')}\n`,
        'modules_parallel: 1',
        `modules_parallel: ${modules}`.padEnd(19),
      ),
    );
    return [limits.ac_output.figure_kW, limits.solar_charging.figure_kW, limits.ac_charging.figure_kW];
  };

  it('caps all three at 4.8 kW; two modules move the caps to the device, more change nothing', () => {
    const [one] = [reportOf(textOf('one-module.yaml'))].map(({ limits }) => [
      limits.ac_output.figure_kW,
      limits.solar_charging.figure_kW,
      limits.ac_charging.figure_kW,
    ]);
    one!.forEach((figure) => void expect(figure).toBeCloseTo(4.8, 12));
    const two = caps(2);
    expect(two[0]).toBe(6);
    expect(two[1]).toBeCloseTo(8 * 0.97, 12);
    expect(two[2]).toBeCloseTo(5.76, 12);
    expect(caps(3)).toEqual(two);
    expect(caps(4)).toEqual(two);
  });

  it('keeps its quiet hours: the saw starts the generator, the night never does', () => {
    const { generator, unmet } = reportOf(textOf('one-module.yaml'));
    expect(generator!.run_hours).toBeGreaterThan(0);
    expect(unmet.by_cause_kWh.bank_current).toBe(0);
  });
});
