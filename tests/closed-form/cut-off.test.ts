/**
 * An inverter that cuts off to spare the bank and comes back later, against arithmetic on paper, and against a linear
 * program that may draw down to the cut-off at any hour and so can't serve less. No outside source for the rule itself:
 * a device that cuts off at one voltage and comes back at a higher one is common practice.
 */
import { audit, findings, type Plant, playYear } from '@longnight/core';
import { describe, expect, it } from 'vitest';
import { type Parts, plantWith } from '../support/plant.ts';
import { yearOf } from '../support/year.ts';

const DAY = 24;
const constant = (value: number): Float64Array => new Float64Array(DAY).fill(value);
const total = (column: Float64Array): number => column.reduce((sum, x) => sum + x, 0);

/** 5 kWh without losses; the inverter draws 0.1 kW of its own. */
const PARTS: Parts = {
  size_kWp: 1,
  floor_soc: 0.1,
  idle_W: 100,
  rating_kW: 2,
  cut_off: { cut_off_soc: 0.3, reconnect_soc: 0.6 },
};
const [AC, DC] = [0.4, 0.1];
const year = (sun: Float64Array, timetables = {}) =>
  yearOf({
    dc_kW_per_kWp: [sun],
    load_kW: constant(AC + DC),
    more: { dc_tier_kW: [constant(DC)] },
    timetables,
  });
const unmet = ({ columns }: { columns: { unmet_inverter_cut_off_kWh: Float64Array } }, i: number): number =>
  columns.unmet_inverter_cut_off_kWh[i]!;

describe('an inverter that cuts off', () => {
  // The sun gives 1.1 kW from noon on: 0.1 kW for the lamp, 1 kW for the bank.
  const sun = constant(0).map((_, i) => (i < 12 ? 0 : 1.1));
  const ledger = playYear(year(sun), plantWith(PARTS));
  const { columns } = ledger;

  it('draws on the bank down to its cut-off, in the hour in which it gets there too', () => {
    // 0.6 kWh an hour out of 5: 2 kWh are left after five hours. Of the 0.5 above 1.5 the lamp takes 0.1 and the
    // inverter 0.1 for itself, so that 0.3 are served.
    for (let i = 0; i < 5; i++) expect(columns.unmet_kWh[i]).toBe(0);
    expect(columns.inverter_out_kWh[5]).toBeCloseTo(0.3, 12);
    expect(unmet(ledger, 5)).toBeCloseTo(0.1, 12);
    expect(columns.bank_stock_kWh[5]).toBeCloseTo(1.5, 12);
  });

  it('then draws nothing itself, while loads on the DC side go on', () => {
    for (let i = 6; i < 12; i++) {
      expect(unmet(ledger, i)).toBeCloseTo(0.4, 12);
      expect(columns.inverter_loss_kWh[i]).toBe(0);
      expect(columns.dc_load_served_kWh[i]).toBeCloseTo(0.1, 12);
    }
    expect(columns.bank_stock_kWh[11]).toBeCloseTo(0.9, 12);
  });

  it('stays off in the sun until the bank is back, and is on from the next hour', () => {
    // 0.9, then 1.9, 2.9 and 3.9 kWh: 3 are asked for.
    for (let i = 12; i < 15; i++) expect(unmet(ledger, i)).toBeCloseTo(0.4, 12);
    expect(columns.bank_stock_kWh[14]).toBeCloseTo(3.9, 12);
    for (let i = 15; i < DAY; i++) expect(columns.unmet_kWh[i]).toBe(0);
    expect(total(columns.unmet_inverter_cut_off_kWh)).toBeCloseTo(0.1 + 9 * 0.4, 12);
    expect(total(columns.unmet_kWh)).toBeCloseTo(0.1 + 9 * 0.4, 12);
    expect(audit(ledger).largest_imbalance_kWh).toBeLessThan(1e-12);
  });

  it('is what gives out, and ends the sunless hours', () => {
    const { gives_out_first, autonomy } = findings(ledger, 1);
    expect(gives_out_first.main_cause).toBe('inverter_cut_off');
    // 3.5 kWh at 0.6 kW.
    expect(autonomy.sunless_hours.least).toBeCloseTo(3.5 / 0.6, 9);
  });

  it('leaves a plant with lamps on the DC side alone to run down to its floor', () => {
    const lamps = yearOf({
      dc_kW_per_kWp: [constant(0)],
      load_kW: constant(0.3),
      more: { dc_tier_kW: [constant(0.3)] },
    });
    const { autonomy, unmet: dark } = findings(playYear(lamps, plantWith({ ...PARTS, idle_W: 0 })), 1);
    expect(autonomy.sunless_hours.least).toBeCloseTo(4.5 / 0.3, 9);
    expect(dark.hours).toBe(DAY - 15);
  });

  it('books an hour above the rating to the cut-off while it is off, and to the rating while it is on', () => {
    const loads = yearOf({ dc_kW_per_kWp: [constant(0)], load_kW: constant(3) });
    const { columns: of } = playYear(loads, plantWith({ ...PARTS, idle_W: 0 }));
    // 2 kWh of the 3.5 above the cut-off in the first hour, 1.5 in the second.
    expect(of.unmet_inverter_rating_kWh[0]).toBeCloseTo(1, 12);
    expect(of.unmet_inverter_cut_off_kWh[1]).toBeCloseTo(1.5, 12);
    expect(of.unmet_inverter_cut_off_kWh[2]).toBeCloseTo(3, 12);
  });

  it('shares the step in which it cuts off with the amps of the modules, as far as each would serve', () => {
    // 20 A at 50 V give 1 kW; 0.5 kWh above the cut-off. With no cut-off 0.5 kWh more, with more amps the rest.
    const loads = yearOf({ dc_kW_per_kWp: [constant(0)], load_kW: constant(1.8) });
    const plant = plantWith({ ...PARTS, idle_W: 0, max_discharge_A: 20, initial_soc: 0.4 });
    const { columns: of } = playYear(loads, plant);
    expect(of.unmet_inverter_cut_off_kWh[0]).toBeCloseTo(0.5, 12);
    expect(of.unmet_bank_current_kWh[0]).toBeCloseTo(0.8, 12);
  });

  it('passes what generator or socket carry, which charge the bank until it comes back', () => {
    const charger = { max_charge_A: 20, max_output_kW: 1, efficiency: 1 };
    const shore_there = Uint8Array.from({ length: DAY }, (_, i) => (i === 8 || i === 9 || i === 10 ? 1 : 0));
    for (const parallel of [false, true]) {
      const parts = { ...PARTS, charger, shore: { max_kW: 3, parallel } };
      const { columns: of } = playYear(year(constant(0), { shore_there }), plantWith(parts));
      // 1.5 kWh at the cut-off, 1.3 after two hours of the lamp; 1 kWh an hour less the lamp's 0.1 from the charger.
      expect(of.shore_kWh[8]).toBeCloseTo(0.4 + 1, 12);
      expect(of.inverter_loss_kWh[8]).toBe(0);
      expect(of.unmet_kWh[8]).toBe(0);
      expect(of.bank_stock_kWh[9]).toBeCloseTo(1.3 + 2 * 0.9, 12);
      // Above 3 kWh it is on again, with its own draw.
      expect(of.inverter_loss_kWh[10]).toBeCloseTo(0.1, 12);
      expect(of.unmet_kWh[11]).toBe(0);
    }
  });

  it('keeps sun on the AC side and loads that take surplus from waking it', () => {
    const both = yearOf({
      dc_kW_per_kWp: [constant(0), sun],
      load_kW: constant(AC),
      more: { surplus: [{ name: 'boiler', most_kWh: constant(1), max_kWh_day: 24 }] },
    });
    const array = plantWith(PARTS).arrays[0]!;
    const plant: Plant = plantWith({ ...PARTS, arrays: [array, { ...array, ac: true }] });
    const { columns: of } = playYear(both, { ...plant, charger: null });
    expect(total(of.curtailed_inverter_off_kWh)).toBeCloseTo(12 * 1.1, 12);
    expect(total(of.surplus_load_kWh)).toBe(0);
  });
});
