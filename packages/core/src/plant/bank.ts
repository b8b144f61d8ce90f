import { expectArgument, expectArguments } from '../basis/arguments.ts';
import { ampsAtVolts_kW } from '../basis/units.ts';
import { expectWithin, FINITE } from '../basis/within.ts';
import { minChargeTemperature_C, taperStart_soc } from '../scenario/rules/chemistry.ts';
import { fitKinetic } from '../scenario/rules/kinetic-fit.ts';
import type { BankSpec } from '../scenario/schema/schema.ts';
import type { KineticModel } from './bank-kinetic.ts';
import { openCircuit, openCircuit_V, type ResistiveModel } from './bank-resistive.ts';

/** How a bank loses energy, and what keeps it from giving all it holds at once. */
export type BankModel = { readonly kind: 'fixed_efficiency' } | ResistiveModel | KineticModel;

/** Modules bought earlier, in parallel with the new ones. */
export type OlderModules = NonNullable<BankSpec['older']>[number];

/** All modules together. Powers are at the terminals, energies are what is stored. */
export interface Bank {
  /** What it is made of. */ readonly chemistry: BankSpec['chemistry'];
  /** New ones; `older` come on top. */ readonly modules_parallel: number;
  /** Modules that were there before; they carry less. */ readonly older: readonly OlderModules[];
  /** How many new modules would carry as much current as all of them before the first is at its amps. */
  readonly current_modules: number;
  /** How it gives and takes what it holds. */ readonly model: BankModel;
  /** Amps become kW at it. */ readonly nominal_voltage_V: number;
  /** Of one module. */ readonly module_max_charge_A: number;
  /** Of one module, all the time. */ readonly module_max_discharge_A: number;
  /** For moments; null where the scenario does not give it. */
  readonly module_peak_discharge_A: number | null;
  /** Between empty and full, at the nominal voltage. */ readonly capacity_kWh: number;
  /** May not be drawn. */ readonly floor_kWh: number;
  /** At the nominal voltage; of a resistive bank at its voltage at half charge, resistance included. */
  readonly max_charge_kW: number;
  /** At the terminals. */ readonly max_discharge_kW: number;
  /** Stored per kWh put in, and given per kWh taken from store: the square root of the round trip each. */
  readonly charge_efficiency: number;
  /** Of energy drawn. */ readonly discharge_efficiency: number;
  /** From here on it takes less. */ readonly taper_start_soc: number;
  /** Share of its charge current that it takes when full. */ readonly taper_end_share: number;
  /** Share of the stock above the floor lost per hour. */ readonly self_discharge_per_h: number;
  /** Below it the bank takes no charge. */ readonly min_charge_temperature_C: number;
  /** Most that one module takes at a temperature, ascending; empty if it is `module_max_charge_A` at any. */
  readonly charge_A_at_temperature: readonly {
    /** Of the bank. */ readonly temperature_C: number;
    /** Of one module at that temperature. */ readonly max_charge_A: number;
  }[];
  /** Share of the capacity that can be drawn at a temperature, ascending; empty if all of it at any. */
  readonly capacity_at_temperature: readonly { readonly temperature_C: number; readonly share: number }[];
  /** Null without heaters. */
  readonly heater: { readonly keep_C: number; readonly loss_kW_per_K: number } | null;
}

const HOURS_PER_MONTH = 720;

/**
 * Builds the bank from its modules: n modules in parallel store n × V × Ah and carry n × A.
 * Where one efficiency holds for any current, the round trip is split evenly between charging and discharging, each the
 * square root of it: common practice, no source.
 *
 * @throws RangeError for what no bank has, as a floor above 1 or amps below 0, and for what `checkScenario` refuses: no
 *   efficiency where the model needs one, an impossible fit
 */
export function buildBank(spec: BankSpec): Bank {
  expectArguments('buildBank', { spec });
  expectArgument('buildBank', 'module', spec.module, 'object');
  const n = spec.modules_parallel;
  const expect = (name: string, value: number, least: number, most: number): void =>
    expectWithin('buildBank', name, value, least, most);
  expect('modules_parallel', n, 0, FINITE);
  expect('floor_soc', spec.floor_soc, 0, 1);
  expect('round_trip_efficiency_share', spec.round_trip_efficiency_share ?? 1, 0, 1);
  for (const key of ['nominal_voltage_V', 'capacity_Ah', 'max_charge_A', 'max_discharge_A'] as const)
    expect(`module.${key}`, spec.module[key], 0, FINITE);
  const { nominal_voltage_V, max_charge_A, max_discharge_A } = spec.module;
  const older = spec.older ?? [];
  const { model, module_Ah, module_V } = modelOf(spec);
  const current_modules = currentModules(n, older, model);
  const capacity_kWh = ampsAtVolts_kW(storingModules(n, older) * module_Ah, module_V);
  const [intoStore, outOfStore] = oneWays(spec, model);
  const at_V = (charge_A: number): number => moduleVoltage_V({ model, nominal_voltage_V }, charge_A);
  return {
    chemistry: spec.chemistry,
    modules_parallel: n,
    older,
    current_modules,
    model,
    nominal_voltage_V,
    module_max_charge_A: max_charge_A,
    module_max_discharge_A: max_discharge_A,
    module_peak_discharge_A: spec.module.peak_discharge_A ?? null,
    capacity_kWh,
    floor_kWh: capacity_kWh * spec.floor_soc,
    max_charge_kW: ampsAtVolts_kW(current_modules * max_charge_A, at_V(max_charge_A)),
    max_discharge_kW: ampsAtVolts_kW(current_modules * max_discharge_A, at_V(-max_discharge_A)),
    charge_efficiency: intoStore,
    discharge_efficiency: outOfStore,
    taper_start_soc: taperStart_soc(spec),
    taper_end_share: spec.taper_end_share,
    self_discharge_per_h: selfDischarge_per_h(spec.self_discharge_share_per_month, spec.floor_soc),
    min_charge_temperature_C: minChargeTemperature_C(spec),
    charge_A_at_temperature: spec.max_charge_A_at_temperature ?? [],
    capacity_at_temperature: spec.capacity_at_temperature ?? [],
    heater:
      spec.heater === undefined
        ? null
        : { keep_C: spec.heater.keep_C, loss_kW_per_K: spec.heater.loss_W_per_K / 1000 },
  };
}

/** The model, what a module stores in Ah, and the voltage at which it does. */
function modelOf({ model, module }: BankSpec): { model: BankModel; module_Ah: number; module_V: number } {
  const { nominal_voltage_V: module_V, capacity_Ah: module_Ah } = module;
  if (model?.kind === 'resistive') {
    const open_circuit = openCircuit(model.open_circuit, model.cells_series);
    const module_resistance_ohm = model.resistance_mOhm / 1000;
    const coulombic_efficiency = model.coulombic_efficiency_share;
    return {
      model: { kind: 'resistive', open_circuit, module_resistance_ohm, coulombic_efficiency },
      module_Ah,
      module_V: open_circuit.mean_V,
    };
  }
  if (model?.kind === 'kinetic') {
    const fit = fitKinetic(model.capacity_20h_Ah, model.capacity_10h_Ah, model.capacity_5h_Ah);
    if (typeof fit === 'string') throw new RangeError(`buildBank: ${fit}`);
    const { most, available_share, rate_per_h } = fit;
    return { model: { kind: 'kinetic', available_share, rate_per_h }, module_Ah: most, module_V };
  }
  return { model: { kind: 'fixed_efficiency' }, module_Ah, module_V };
}

/** Stored per kWh put in, and given per kWh taken from store, apart from what current does to a resistive bank. */
function oneWays({ round_trip_efficiency_share }: BankSpec, model: BankModel): readonly [number, number] {
  if (model.kind === 'resistive') return [model.coulombic_efficiency, 1];
  if (round_trip_efficiency_share === undefined) {
    throw new RangeError(`buildBank: a ${model.kind} bank without round_trip_efficiency_share`);
  }
  const oneWay = Math.sqrt(round_trip_efficiency_share);
  return [oneWay, oneWay];
}

/**
 * Voltage at which a module's amps are counted: the nominal one; of a resistive bank, that at the terminals at half
 * charge, never below 0.
 *
 * @param charge_A below 0 it is discharged
 */
export function moduleVoltage_V(
  { model, nominal_voltage_V }: Pick<Bank, 'model' | 'nominal_voltage_V'>,
  charge_A: number,
): number {
  if (model.kind !== 'resistive') return nominal_voltage_V;
  return Math.max(0, openCircuit_V(model.open_circuit, 0.5) + charge_A * model.module_resistance_ohm);
}

/** What the bank gives for a moment at amps of a module. */
export const peakPower_kW = (bank: Bank, module_A: number): number =>
  ampsAtVolts_kW(bank.current_modules * module_A, moduleVoltage_V(bank, -module_A));

/** How many new modules store as much as all of them. */
const storingModules = (modules_parallel: number, older: readonly OlderModules[]): number =>
  older.reduce((sum, { modules, capacity_share }) => sum + modules * capacity_share, modules_parallel);

/**
 * How many new modules carry as much as all of them. In parallel they stay at one voltage: those of a resistive bank
 * share its current by their conductance, others by what they store, so that all are full and empty at the same time.
 * Either way a new module carries most and is the first at its amps.
 */
const currentModules = (
  modules_parallel: number,
  older: readonly OlderModules[],
  model: BankModel,
): number =>
  model.kind === 'resistive'
    ? older.reduce((sum, group) => sum + group.modules / (group.resistance_factor ?? 1), modules_parallel)
    : storingModules(modules_parallel, older);

/** The same bank with another number of new modules. */
export function withModules(bank: Bank, modules_parallel: number): Bank {
  expectArguments('withModules', { bank });
  expectWithin('withModules', 'modules_parallel', modules_parallel, 0, FINITE);
  const { older, model } = bank;
  const stores = storingModules(modules_parallel, older) / storingModules(bank.modules_parallel, older);
  const current_modules = currentModules(modules_parallel, older, model);
  const carries = current_modules / bank.current_modules;
  return {
    ...bank,
    modules_parallel,
    current_modules,
    capacity_kWh: bank.capacity_kWh * stores,
    floor_kWh: bank.floor_kWh * stores,
    max_charge_kW: bank.max_charge_kW * carries,
    max_discharge_kW: bank.max_discharge_kW * carries,
  };
}

/**
 * Hourly self-discharge such that a full bank left alone for 30 days loses the stated share of its capacity. It is
 * charged to the stock above the floor: below it nothing is drawn, so what is lost there changes no answer, and a
 * larger bank then never serves less than a smaller one, which sizing relies on.
 */
const selfDischarge_per_h = (share_per_month: number, floor_soc: number): number =>
  1 - Math.max(0, 1 - share_per_month / (1 - floor_soc)) ** (1 / HOURS_PER_MONTH);
