import type { Issue } from '../../basis/errors.ts';
import { rounded } from '../../basis/rounding.ts';
import type { InverterSpec, Scenario } from '../schema/schema.ts';
import { colder } from './bank.ts';
import { broken, notAfter, pairs } from './rule.ts';

/** Ratings, losses, heat and sleep of the inverter, its units, and the cable to it. */
export function* inverterRules({ inverter, bank, wiring }: Scenario): Generator<Issue> {
  const { rating_kW, surge_kW, idle_W, units, legs, derating, sleep, cut_off } = inverter;
  if (surge_kW < rating_kW)
    yield broken('inverter.surge_kW')`${surge_kW} kW is less than the rating of ${rating_kW} kW | give the
      short-time power; if it is not known, give the rating`;
  yield* efficiency(inverter);
  if (units % legs !== 0)
    yield broken('inverter.units')`${units} ${units === 1 ? 'unit' : 'units'} can't be spread over ${legs}
      legs | give ${legs}, or a multiple of it`;
  for (const [i, before, { temperature_C, share }] of pairs(derating?.points)) {
    const at = `inverter.derating.points[${i}]`;
    if (temperature_C <= before.temperature_C) yield colder(at, temperature_C, before.temperature_C);
    else if (share > before.share)
      yield broken(`${at}.share`)`a share of ${share} at ${temperature_C} °C is more than ${before.share}
        where it is cooler | check both against the data sheet`;
  }
  // It would have no reason to sleep, and the books of an empty bank no sense.
  if (sleep !== undefined && sleep.search_W > idle_W)
    yield broken('inverter.sleep.search_W')`asleep it draws ${sleep.search_W} W, more than the ${idle_W} W
      of idle_W awake | check both against the data sheet`;
  if (cut_off !== undefined) {
    const { cut_off_soc, reconnect_soc } = cut_off;
    const floor = bank.floor_soc;
    if (cut_off_soc < floor)
      yield broken(
        'inverter.cut_off.cut_off_soc',
      )`${cut_off_soc} is below the bank's floor of ${floor}: the bank
        never gets there | cut off at ${floor} or more, or lower the floor`;
    if (reconnect_soc <= cut_off_soc)
      yield broken('inverter.cut_off.reconnect_soc')`comes back at ${reconnect_soc}, which is not above
        cut_off_soc ${cut_off_soc} | leave a gap, so that the loads do not flutter`;
  }
  if (wiring === undefined) return;
  const { cable_AWG, cable_mm2, bank_lowest_voltage_V: lowest_V } = wiring;
  if (cable_AWG !== undefined && cable_mm2 !== undefined)
    yield broken('wiring.cable_mm2')`${cable_mm2} mm² beside ${cable_AWG} AWG | give the size of the cable
      once`;
  if (lowest_V !== undefined && lowest_V > bank.module.nominal_voltage_V)
    yield broken('wiring.bank_lowest_voltage_V')`${lowest_V} V is above the nominal
      ${bank.module.nominal_voltage_V} V | give the voltage of the bank near empty`;
}

/** More output takes more input, and no loss is below the idle draw. */
function* efficiency({ rating_kW, idle_W, efficiency: spec }: InverterSpec): Generator<Issue> {
  if (!('points' in spec)) return;
  let before = { load_share: 0, input_kW: idle_W / 1000 };
  for (const [i, { load_share: load, efficiency_share: share }] of spec.points.entries()) {
    const at = `inverter.efficiency.points[${i}]`;
    const output_kW = load * rating_kW;
    const input_kW = output_kW / share;
    const loss_W = 1000 * (input_kW - output_kW);
    if (load <= before.load_share)
      yield notAfter(`${at}.load_share`, `load ${load}`, `${before.load_share}`, 'load');
    else if (loss_W < idle_W * (1 - 1e-9)) {
      const highest = Math.floor((1000 * output_kW) / (output_kW + idle_W / 1000)) / 1000;
      yield broken(`${at}.efficiency_share`)`efficiency ${share} at load ${load} is a loss of
        ${rounded(loss_W)} W, less than the ${idle_W} W it stands for all the time | points include the
        idle draw: give ${highest} or less here, or a lower idle_W`;
    } else if (input_kW <= before.input_kW)
      yield broken(`${at}.efficiency_share`)`efficiency ${share} at load ${load} draws no more than the point
        before it | check this efficiency and the one before it`;
    before = { load_share: load, input_kW };
  }
}
