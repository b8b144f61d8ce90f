import type { Issue } from '../../basis/errors.ts';
import { rounded } from '../../basis/rounding.ts';
import type { BankSpec, Scenario } from '../schema/schema.ts';
import { fitKinetic } from './kinetic-fit.ts';
import { broken, notAfter, pairs } from './rule.ts';

type Model = NonNullable<BankSpec['model']>;
type Resistive = Extract<Model, { kind: 'resistive' }>;
type Kinetic = Extract<Model, { kind: 'kinetic' }>;

/** Stock, wear, cold, the model and what it reads, older modules. */
export function* bankRules({ bank, run }: Scenario): Generator<Issue> {
  const { floor_soc: floor, self_discharge_share_per_month: lost, module, model } = bank;
  if (lost >= 1 - floor)
    yield broken('bank.self_discharge_share_per_month')`a share of ${lost} a month empties a full bank to its
      floor of ${floor} | give the share of the capacity lost in 30 days, such as 0.03`;
  if (run.initial_soc !== undefined && run.initial_soc < floor)
    yield broken('run.initial_soc')`${run.initial_soc} is below the bank's floor of ${floor} | start at
      ${floor} or more, or lower bank.floor_soc`;
  if (module.peak_discharge_A !== undefined && module.peak_discharge_A < module.max_discharge_A)
    yield broken('bank.module.peak_discharge_A')`${module.peak_discharge_A} A is less than max_discharge_A
      ${module.max_discharge_A} | give the current for moments; leave it out if it is not known`;
  yield* cycleLife(bank);
  yield* cold(bank);
  yield* efficiency(bank);
  if (model?.kind === 'resistive') yield* resistive(bank, model);
  if (model?.kind === 'kinetic') yield* kinetic(bank, model);
  yield* older(bank);
}

/** Deeper cycles are fewer, and each depth stands once. */
function* cycleLife({ cycle_life }: BankSpec): Generator<Issue> {
  for (const [i, before, { depth_share: depth, cycles }] of pairs(cycle_life)) {
    const at = `bank.cycle_life[${i}]`;
    if (depth <= before.depth_share)
      yield notAfter(`${at}.depth_share`, `depth ${depth}`, `${before.depth_share}`, 'depth');
    else if (cycles >= before.cycles)
      yield broken(`${at}.cycles`)`${cycles} cycles at depth ${depth} are not fewer than ${before.cycles} at
        ${before.depth_share} | check both: a deeper cycle wears more`;
  }
}

/** Heaters of a bank indoors have no air to fight; curves run one way, and no module takes more than it may. */
function* cold(bank: BankSpec): Generator<Issue> {
  if (bank.heater !== undefined && bank.temperature.kind === 'indoors')
    yield broken('bank.heater')`the bank is indoors, at a temperature of its own | leave bank.heater out, or
      set bank.temperature to { kind: outdoors }`;
  for (const [i, before, { temperature_C, share }] of pairs(bank.capacity_at_temperature)) {
    const at = `bank.capacity_at_temperature[${i}]`;
    if (temperature_C <= before.temperature_C) yield colder(at, temperature_C, before.temperature_C);
    else if (share < before.share)
      yield broken(`${at}.share`)`a share of ${share} at ${temperature_C} °C is less than ${before.share} in
        the greater cold | check both against the data sheet`;
  }
  const amps = bank.max_charge_A_at_temperature ?? [];
  for (const [i, { temperature_C, max_charge_A }] of amps.entries()) {
    const at = `bank.max_charge_A_at_temperature[${i}]`;
    const before_C = amps[i - 1]?.temperature_C ?? Number.NEGATIVE_INFINITY;
    if (temperature_C <= before_C) yield colder(at, temperature_C, before_C);
    else if (max_charge_A > bank.module.max_charge_A)
      yield broken(`${at}.max_charge_A`)`${max_charge_A} A is more than module.max_charge_A
        ${bank.module.max_charge_A} | give what one module takes at this temperature`;
  }
}

/** Of points against temperature, which begin with the coldest. */
export const colder = (at: string, value_C: number, before_C: number): Issue =>
  notAfter(`${at}.temperature_C`, `${value_C} °C`, `${before_C} °C`, 'temperature', 'coldest');

function* efficiency({ model, round_trip_efficiency_share: given }: BankSpec): Generator<Issue> {
  const path = 'bank.round_trip_efficiency_share';
  if (model?.kind === 'resistive') {
    if (given !== undefined)
      yield broken(path)`a resistive bank works its losses out from resistance_mOhm and current | leave it
        out, or leave bank.model out`;
  } else if (given === undefined) {
    const why =
      model === undefined
        ? 'no bank.model says how else the bank loses energy'
        : `a bank of kind ${model.kind} needs it`;
    yield broken(path, 'missing-key', { expected: 'a number from 0.3 to 1' })`missing, and ${why} | add
      "round_trip_efficiency_share: …" to bank; a bank of model { kind: resistive, … } does without`;
  }
}

/** Voltage at half charge over the nominal one, beyond which one of the two is taken for a mistake. Invented. */
const LIKELY_VOLTAGE = { least: 0.75, most: 1.35 } as const;

/** The first thing that is wrong with the curve; then whether it fits the module. */
function* resistive(bank: BankSpec, model: Resistive): Generator<Issue> {
  const { module, cycle_life, life_cycles, life_years } = bank;
  const wears = (cycle_life ?? life_cycles ?? life_years) !== undefined;
  const at = 'bank.model.open_circuit';
  const { open_circuit: points, cells_series, resistance_mOhm, end_of_life_resistance_factor } = model;
  const last = points.length - 1;
  if (points[0]!.soc !== 0)
    return yield broken(`${at}[0].soc`)`begins at ${points[0]!.soc} | begin with the empty module: soc 0`;
  for (const [i, before, { soc, voltage_V }] of pairs(points)) {
    if (soc <= before.soc)
      return yield notAfter(`${at}[${i}].soc`, `${soc}`, `${before.soc}`, 'state of charge');
    if (voltage_V < before.voltage_V)
      return yield broken(`${at}[${i}].voltage_V`)`${voltage_V} V at ${soc} is less than ${before.voltage_V} V
        at ${before.soc} | check both: the voltage rises with charge`;
  }
  if (points[last]!.soc !== 1)
    return yield broken(`${at}[${last}].soc`)`ends at ${points[last]!.soc} | end with the full module: soc 1`;
  const above = points.findIndex(({ soc }) => soc >= 0.5);
  const [low, high] = [points[above - 1]!, points[above]!];
  const half_V =
    cells_series *
    (low.voltage_V + ((0.5 - low.soc) / (high.soc - low.soc)) * (high.voltage_V - low.voltage_V));
  const share = half_V / module.nominal_voltage_V;
  if (share < LIKELY_VOLTAGE.least || share > LIKELY_VOLTAGE.most) {
    const cells = Math.round(module.nominal_voltage_V / (half_V / cells_series));
    const fix =
      cells > 1
        ? `if the points are of one cell, add cells_series: ${cells}`
        : 'give the voltages of a module, or of a cell with cells_series';
    return yield broken(at)`${rounded(half_V, 4)} V at half charge do not fit a module of
      ${module.nominal_voltage_V} V | ${fix}`;
  }
  const lowest_V = cells_series * points[0]!.voltage_V;
  const drop_V = (module.max_discharge_A * resistance_mOhm) / 1000;
  if (drop_V >= lowest_V / 2)
    yield broken('bank.model.resistance_mOhm')`${module.max_discharge_A} A lose ${rounded(drop_V)} V of the
      ${rounded(lowest_V, 4)} V of an empty module: half or more | give the resistance of one module in
      thousandths of an ohm, such as 15`;
  else if (wears && end_of_life_resistance_factor * drop_V >= lowest_V / 2)
    yield broken(
      'bank.model.end_of_life_resistance_factor',
    )`${module.max_discharge_A} A lose ${rounded(end_of_life_resistance_factor * drop_V)} V of the
      ${rounded(lowest_V, 4)} V of an empty module when it is worn: half or more | give the factor that it is worn at, or
      fewer amps`;
}

function* kinetic({ module: { capacity_Ah } }: BankSpec, model: Kinetic): Generator<Issue> {
  const given = [model.capacity_20h_Ah, model.capacity_10h_Ah, model.capacity_5h_Ah] as const;
  const fit = fitKinetic(...given);
  if (typeof fit === 'string')
    yield broken('bank.model')`no kinetic battery gives ${given[0]} Ah in 20 h, ${given[1]} in 10 and
      ${given[2]} in 5: ${fit} | check the three against the data sheet, at one end voltage`;
  else if (given.every((Ah) => Math.abs(Ah - capacity_Ah) > 1e-9 * capacity_Ah))
    yield broken('bank.module.capacity_Ah')`${capacity_Ah} Ah is none of the three capacities of bank.model |
      give the one of the three that the module is sold by, most often that at 20 or 10 h`;
}

function* older({ older: groups = [], model }: BankSpec): Generator<Issue> {
  const isResistive = model?.kind === 'resistive';
  for (const [i, { resistance_factor }] of groups.entries()) {
    const path = `bank.older[${i}].resistance_factor`;
    if (isResistive && resistance_factor === undefined)
      yield broken(path, 'missing-key', { expected: 'a number from 1 to 100' })`missing: the modules of a
        resistive bank share its current by their resistance | add "resistance_factor: …": resistance over
        that of a new module, such as 1.3`;
    if (!isResistive && resistance_factor !== undefined)
      yield broken(path)`only a resistive bank reads it: in others, modules share the current by their
        capacity | leave it out, or give bank.model { kind: resistive, … }`;
  }
}
