/** A stream and a small turbine beside the sun: each worked out by hand. No outside source: closed forms. */

import { readFileSync } from 'node:fs';
import {
  audit,
  findings,
  type OtherSource,
  plantOf,
  playYear,
  prepareYear,
  readScenario,
} from '@longnight/core';
import { buildClock } from '@longnight/core/clock';
import { describe, expect, it } from 'vitest';
import { prepareOthers } from '../../packages/core/src/others/prepare.ts';
import { openTracker, type Parts, plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (value: number): Float64Array => new Float64Array(DAY).fill(value);
const STREAM: OtherSource = { name: 'stream', max_output_kW: 10, efficiency: 1, ac: false };

/** A bank of 5 kWh without losses, a load of 0.2 kW. */
function played(
  kW: number,
  other: Partial<OtherSource>,
  parts: Parts = {},
  sun = constant(0),
  load_kW = constant(0.2),
) {
  const year = yearOf({
    dc_kW_per_kWp: [sun],
    load_kW,
    others: [{ name: 'stream', power_kW: constant(kW) }],
  });
  const plant = plantWith({ size_kWp: 1, ...parts, others: [{ ...STREAM, ...other }] });
  const ledger = playYear(year, plant);
  expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  return ledger;
}

describe('a source on the DC side', () => {
  it('carries loads by night and fills the bank through its own efficiency', () => {
    const { columns } = played(0.5, { efficiency: 0.8 }, { initial_soc: 0.2 });
    // 0.4 kW at the bus: 0.2 for the load, 0.2 for the bank.
    expect(columns.other_available_kWh[0]).toBeCloseTo(0.5, 12);
    expect(columns.other_used_kWh[0]).toBeCloseTo(0.5, 12);
    expect(columns.tracker_loss_kWh[0]).toBeCloseTo(0.1, 12);
    expect(columns.bank_stock_kWh[4]).toBeCloseTo(2, 12);
    // Full after twenty hours; then it gives the load alone, and the rest is for the diversion load.
    expect(columns.other_used_kWh[19]).toBeCloseTo(0.5, 12);
    expect(columns.other_used_kWh[20]).toBeCloseTo(0.25, 12);
    expect(columns.other_curtailed_kWh[20]).toBeCloseTo(0.25, 12);
    expect(columns.curtailed_bank_full_kWh[20]).toBeCloseTo(0.25, 12);
    expect(columns.curtailed_kWh[20]).toBe(0);
    expect(columns.array_used_kWh[20]).toBe(0);
  });

  it('gives no more than its controller lets through', () => {
    const { columns } = played(1, { max_output_kW: 0.4, efficiency: 0.8 }, { initial_soc: 0 });
    expect(columns.other_used_kWh[0]).toBeCloseTo(0.5, 12);
    expect(columns.curtailed_other_power_kWh[0]).toBeCloseTo(0.5, 12);
    expect(columns.other_curtailed_kWh[0]).toBeCloseTo(0.5, 12);
  });

  it('shares what nobody takes with the sun, in proportion', () => {
    // 0.3 of the stream and 0.9 of the sun for a load of 0.2 with the bank full: one part in six of each is used.
    const ledger = played(0.3, {}, {}, constant(0.9));
    const { columns } = ledger;
    expect(columns.other_used_kWh[3]).toBeCloseTo(0.05, 12);
    expect(columns.array_used_kWh[3]).toBeCloseTo(0.15, 12);
    expect(columns.other_curtailed_kWh[3]).toBeCloseTo(0.25, 12);
    expect(columns.curtailed_kWh[3]).toBeCloseTo(0.75, 12);
    expect(columns.curtailed_bank_full_kWh[3]).toBeCloseTo(1, 12);
    const { other_sources, array, by_month } = findings(ledger, 1);
    expect(other_sources!.used_kWh).toBeCloseTo(24 * 0.05, 9);
    expect(other_sources!.supply_share).toBeCloseTo(0.25, 9);
    expect(array.curtailed_share).toBeCloseTo(0.75 / 0.9, 9);
    expect(by_month[0]!.other_used_kWh).toBeCloseTo(24 * 0.05, 9);
  });

  it('is the same as an array of that power in all that the plant does', () => {
    const sun = constant(0).map((_, i) => (i > 8 && i < 16 ? 0.7 : 0));
    const load_kW = constant(0.2).map((_, i) => 0.1 + 0.02 * i);
    const parts: Parts = { initial_soc: 0.3, idle_W: 30, loss_linear: 0.1, round_trip: 0.9, max_charge_A: 6 };
    const { columns } = played(0.35, { efficiency: 0.9 }, parts, sun, load_kW);
    const arrays = [openTracker(1), openTracker(1, 0.9)];
    const asArray = playYear(
      yearOf({ dc_kW_per_kWp: [sun, constant(0.35)], load_kW }),
      plantWith({ ...parts, arrays }),
    ).columns;
    for (const name of ['unmet_kWh', 'bank_stock_kWh', 'losses_kWh', 'inverter_out_kWh'] as const)
      for (let i = 0; i < DAY; i++) expect(columns[name][i], name).toBeCloseTo(asArray[name][i]!, 12);
    const used = columns.array_used_kWh.map((kWh, i) => kWh + columns.other_used_kWh[i]!);
    for (let i = 0; i < DAY; i++) expect(used[i]).toBeCloseTo(asArray.array_used_kWh[i]!, 12);
  });
});

describe('a source on the AC side', () => {
  const charger = { max_charge_A: 20, max_output_kW: 1, efficiency: 0.8 };

  it('carries loads past the inverter, and what is left charges through the charger', () => {
    const { columns } = played(0.7, { ac: true }, { initial_soc: 0.2, charger });
    expect(columns.other_ac_kWh[0]).toBeCloseTo(0.7, 12);
    expect(columns.array_ac_kWh[0]).toBe(0);
    expect(columns.bank_charge_kWh[0]).toBeCloseTo(0.4, 12);
    expect(columns.inverter_out_kWh[0]).toBe(0);
  });

  it('is for the diversion load where no charger takes it, and stands still while the inverter is down', () => {
    const up = played(0.7, { ac: true }, { initial_soc: 0.5 }).columns;
    expect(up.curtailed_charger_kWh[0]).toBeCloseTo(0.5, 12);
    expect(up.other_curtailed_kWh[0]).toBeCloseTo(0.5, 12);
    const down = played(0.7, { ac: true }, { initial_soc: 0, idle_W: 20 }).columns;
    expect(down.curtailed_inverter_off_kWh[0]).toBeCloseTo(0.7, 12);
    expect(down.other_used_kWh[0]).toBe(0);
    expect(down.unmet_kWh[0]).toBeCloseTo(0.2, 12);
  });
});

describe('its year', () => {
  it('is twelve numbers by month, or rows of a file that lie on the clock as a load does', () => {
    const clock = buildClock(2025, 'Etc/UTC', 60);
    const base = { name: 'a', efficiency_share: 1 } as const;
    const rows = Array.from(
      { length: 8760 },
      (_, i) => `${new Date(Date.UTC(2025, 0, 1, i)).toISOString()},${i % 24}`,
    );
    const series = {
      kind: 'series',
      ...base,
      name: 'b',
      file: 'b.csv',
      delimiter: ',',
      time: { column: 't', zone: 'UTC', label: 'start' },
      gaps: { fill: 'refuse' },
      power: { column: 'p', unit: 'W' },
      max_power_W: 500,
    } as never;
    const power_W = [100, 200, 300, 400, 500, 600, 700, 800, 900, 1000, 1100, 1200];
    const { years } = prepareOthers(
      [{ kind: 'constant', ...base, power_W }, series],
      clock,
      new Map([['b.csv', ['t,p', ...rows].join('\n')]]),
    );
    expect(years[0]!.power_kW[0]).toBeCloseTo(0.1, 12);
    expect(years[0]!.power_kW[8759]).toBeCloseTo(1.2, 12);
    expect(years[1]!.power_kW[5]).toBeCloseTo(0.005, 12);
    const negative = new Map([['b.csv', ['t,p', ...rows].join('\n').replace(',5\n', ',-5\n')]]);
    expect(() => prepareOthers([series], clock, negative)).toThrow(/is negative/);
  });

  it('asks for a diversion load that takes all its power, first of all that is said', () => {
    const text = readFileSync('data/demo/holds.yaml', 'utf8');
    const said = (diversion: string) => {
      const other = `\nother_sources:\n  - { kind: constant, name: stream, power_W: 400${diversion} }\n`;
      const read = readScenario(`${text}${other}`, 'holds.yaml');
      return findings(playYear(prepareYear(read), plantOf(read.scenario)));
    };
    expect(said(', diversion_W: 300').dangers).toEqual([
      {
        id: 'diversion_load',
        path: 'other_sources[0].diversion_W',
        figure: 400,
        limit: 300,
        unit: 'W',
        source: 'stream',
      },
    ]);
    const enough = said(', diversion_W: 400');
    expect(enough.dangers).toEqual([]);
    expect(enough.cautions[0]).toMatch(/runs away/);
    expect(said('').cautions[0]).toMatch(/diversion load or a brake/);
  });
});
