import { expectArgument } from '../basis/arguments.ts';
import { lastOf } from '../basis/memo.ts';
import { ampsAtVolts_kW } from '../basis/units.ts';
import type {
  ArraySpec,
  ChargerSpec,
  OtherSourceSpec,
  Scenario,
  WiringSpec,
} from '../scenario/schema/schema.ts';
import { type ShoreRule, shoreRule } from '../scenario/schema/sources.ts';
import { type Bank, buildBank } from './bank.ts';
import { type BankLife, buildBankLife } from './bank-life.ts';
import { buildGenerator, type EngineGenerator } from './generator.ts';
import { buildInverter, type Inverter } from './inverter.ts';
import {
  type PanelString,
  panelString,
  type TrackerInput,
  type WorkingRange,
  workingRange,
} from './panel-string.ts';

/** One array on its tracker: the sizes, not the weather. */
export interface Tracked {
  /** Of the array. */ readonly name: string;
  /** Of the array. */ readonly size_kWp: number;
  /** Most that the tracker takes. */ readonly max_input_kW: number;
  /** Most that the tracker gives. */ readonly max_output_kW: number;
  /** Null for an array on the AC side. */ readonly max_charge_A: number | null;
  /** Of the tracker. */ readonly efficiency: number;
  /** True if it feeds the AC side through an inverter of its own, which follows that of the plant. */
  readonly ac?: boolean;
  /** True if it is built into the inverter, whose limits then hold for it. */ readonly built_in?: boolean;
  /** Null where the scenario gives no data sheet of its panels. */ readonly string: PanelString | null;
  /** Volts and amps of the tracker's input. */ readonly input: TrackerInput;
  /** Cells outside it make a voltage at which the tracker takes nothing. */ readonly works: WorkingRange;
}

/** Another source on its controller: its limits, not its power. */
export interface OtherSource {
  /** Of the source. */ readonly name: string;
  /** Most that its controller puts out; infinite where none is told. */ readonly max_output_kW: number;
  /** Of rectifier and controller. */ readonly efficiency: number;
  /** True if it feeds the AC side, where it follows the plant's inverter. */ readonly ac: boolean;
}

/** Limits of an all-in-one over what is built into it, all units together; infinite where the scenario states none. */
export interface AllInOne {
  /**
   * Most that goes into the bank, kW: by the device's limit, and beside it what trackers, charger and engine outside it
   * can put out at most.
   */
  readonly max_charge_kW: number;
  /** The device's own limit within it; null where it states none. */ readonly max_charge_A: number | null;
  /** Most that its trackers take from their arrays together, and put out together, kW. */
  readonly max_tracker_input_kW: number;
  /** All its trackers together. */ readonly max_tracker_output_kW: number;
  /** All its trackers together; null where it has no such limit. */ readonly max_tracker_A: number | null;
}

/** The AC charger; null means the generator can't reach the bank. */
export interface Charger {
  /** Into the bank. */ readonly max_charge_A: number;
  /** Into the bank, kW DC. */ readonly max_output_kW: number;
  /** AC in to DC out. */ readonly efficiency: number;
  /** Most it draws on the circuit of the socket, of the generator; left out where that depends on no voltage. */
  readonly max_shore_input_kW?: number;
  /** Most that it takes from the generator. */ readonly max_generator_input_kW?: number;
}

/** A socket that gives power by schedule. */
export interface Shore {
  /** Most that the socket gives. */ readonly max_kW: number;
  /** True if it can share the loads with the inverter. */ readonly parallel: boolean;
  /** When it carries the loads. */ readonly carries: ShoreRule;
}

/** At `shed_soc` the tier is shed, at `restore_soc` it comes back. */
export interface Shedding {
  /** Tier that is shed. */ readonly tier: number;
  /** State of charge at which it is shed. */ readonly shed_soc: number;
  /** State of charge at which it comes back. */ readonly restore_soc: number;
}

/** The plant under test: limits and losses of each part, no time in them. A variation is a new value. */
export interface Plant {
  /** In the order of the scenario. */ readonly arrays: readonly Tracked[];
  /** In the order of the scenario. */ readonly others: readonly OtherSource[];
  /** Its battery bank. */ readonly bank: Bank;
  /** Null where the scenario states no life of the bank. */ readonly bank_life: BankLife | null;
  /** Between the DC and the AC side. */ readonly inverter: Inverter;
  /** From the AC side into the bank; null without one. */ readonly charger: Charger | null;
  /** Null unless the scenario states a limit over all that is built into the inverter. */
  readonly all_in_one: AllInOne | null;
  /** Null without one. */ readonly generator: EngineGenerator | null;
  /** A socket; null without one. */ readonly shore: Shore | null;
  /** Most that a running engine puts into the DC side through its DC-DC charger, kW; 0 without. */
  readonly alternator_kW: number;
  /** By tier, ascending. */ readonly shedding: readonly Shedding[];
  /** The cable between bank and inverter, as far as the scenario gives it. */
  readonly wiring: WiringSpec | null;
  /** With which the year begins; null if it closes: it begins with the state it ends with. */
  readonly initial_soc: number | null;
}

/** Stock down to which the inverter draws: the bank's floor, or its own cut-off. */
export const inverterFloor_kWh = ({ bank, inverter }: Pick<Plant, 'bank' | 'inverter'>): number =>
  Math.max(bank.floor_kWh, (inverter.cut_off?.cut_off_soc ?? 0) * bank.capacity_kWh);

/** What a charger may draw on a circuit: that of the highest voltage listed which the circuit reaches, 5 % below counting as reached. */
function circuit_kW({ input_at_voltage }: ChargerSpec, voltage_V: number | undefined): number {
  if (input_at_voltage === undefined || voltage_V === undefined) return Number.POSITIVE_INFINITY;
  const reached = input_at_voltage.filter((circuit) => circuit.voltage_V * 0.95 <= voltage_V);
  return reached.reduce((most, circuit) => Math.max(most, circuit.max_input_W), 0) / 1000;
}

/** Builds the plant of a checked scenario. Tracker and charger amps count at the bank's nominal voltage. */
export function plantOf(scenario: Scenario): Plant {
  expectArgument('plantOf', 'scenario', scenario, 'scenario');
  return newPlantBuilder()(scenario);
}

/**
 * The same for many scenarios one after the other: arrays and inverter of sections that are the very same as in the one
 * before are the very same too, so that what was worked out for them is known to hold.
 */
export function newPlantBuilder(): (scenario: Scenario) => Plant {
  const arraysOf = lastOf<Pick<Plant, 'arrays' | 'all_in_one' | 'others'>>();
  const inverterOf = lastOf<Inverter>();
  return (scenario) => {
    const { arrays, inverter, charger, alternator, other_sources, bank } = scenario;
    const volts = bank.module.nominal_voltage_V;
    return {
      ...arraysOf([arrays, volts, inverter, charger, alternator, other_sources], () => ({
        arrays: arrays.map((array) => tracked(array, volts)),
        all_in_one: allInOneOf(scenario, volts),
        others: (other_sources ?? []).map(otherSource),
      })),
      inverter: inverterOf([inverter], () => buildInverter(inverter)),
      ...restOf(scenario, volts),
    };
  };
}

function restOf(
  scenario: Scenario,
  volts: number,
): Omit<Plant, 'arrays' | 'all_in_one' | 'others' | 'inverter'> {
  const { shore, generator, alternator } = scenario;
  return {
    bank: buildBank(scenario.bank),
    bank_life: buildBankLife(scenario.bank),
    charger: chargerOf(scenario, volts),
    generator: generator === undefined ? null : buildGenerator(generator),
    shore: shore === undefined ? null : shoreOf(shore),
    alternator_kW: ampsAtVolts_kW(alternator?.max_charge_A ?? 0, volts),
    shedding: scenario.shedding.toSorted((a, b) => a.tier - b.tier),
    wiring: scenario.wiring ?? null,
    initial_soc: scenario.run.initial_soc ?? null,
  };
}

const otherSource = ({ name, bus, efficiency_share, max_power_W }: OtherSourceSpec): OtherSource => ({
  name,
  max_output_kW: (max_power_W ?? Number.POSITIVE_INFINITY) / 1000,
  efficiency: efficiency_share,
  ac: bus === 'ac',
});

/** Most that other sources put onto the DC side, kW. */
const othersOnDc_kW = (sources: readonly OtherSourceSpec[] = []): number =>
  sources.reduce((sum, source) => {
    if (source.bus === 'ac') return sum;
    const power_W =
      source.kind === 'series' ? Number.POSITIVE_INFINITY : Math.max(...[source.power_W].flat());
    return sum + Math.min(source.max_power_W ?? power_W, power_W * source.efficiency_share) / 1000;
  }, 0);

const shoreOf = (shore: NonNullable<Scenario['shore']>): Shore => ({
  max_kW: ampsAtVolts_kW(shore.max_A, shore.voltage_V),
  parallel: shore.connection === 'parallel',
  carries: shoreRule(shore),
});

/** The charger of a stack is one for each unit where it is built in, and one elsewhere. */
function chargerOf({ charger, inverter, shore, generator }: Scenario, bank_V: number): Charger | null {
  if (charger === undefined) return null;
  const count = charger.built_in === true ? inverter.units : 1;
  return {
    max_charge_A: charger.max_charge_A * count,
    max_output_kW: ampsAtVolts_kW(charger.max_charge_A * count, bank_V),
    efficiency: charger.efficiency_share,
    max_shore_input_kW: circuit_kW(charger, shore?.voltage_V) * count,
    max_generator_input_kW: circuit_kW(charger, generator?.voltage_V) * count,
  };
}

/**
 * Limits of an all-in-one. Its arrays are taken to be spread evenly over the units of a stack; what stands outside it
 * charges the bank beside it, at most with all it has.
 */
function allInOneOf(scenario: Scenario, bank_V: number): AllInOne | null {
  const { inverter, arrays, charger, alternator } = scenario;
  const { units, max_total_charge_A, max_total_tracker_kW, max_total_tracker_A } = inverter;
  const builtIn = arrays.some(({ tracker }) => tracker.built_in === true);
  const hasCharger = charger?.built_in === true;
  const charge_A = builtIn || hasCharger ? max_total_charge_A : undefined;
  const tracker_kW = builtIn ? max_total_tracker_kW : undefined;
  const tracker_A = builtIn ? max_total_tracker_A : undefined;
  if (charge_A === undefined && tracker_kW === undefined && tracker_A === undefined) return null;
  const all_kW = (amps: number | undefined): number =>
    amps === undefined ? Number.POSITIVE_INFINITY : ampsAtVolts_kW(amps * units, bank_V);
  const outside_A = arrays.reduce(
    (sum, { tracker }) => sum + (tracker.built_in === true ? 0 : (tracker.max_charge_A ?? 0)),
    (hasCharger ? 0 : (charger?.max_charge_A ?? 0)) + (alternator?.max_charge_A ?? 0),
  );
  return {
    max_charge_kW:
      all_kW(charge_A) + ampsAtVolts_kW(outside_A, bank_V) + othersOnDc_kW(scenario.other_sources),
    max_charge_A: charge_A === undefined ? null : charge_A * units,
    max_tracker_input_kW: tracker_kW === undefined ? Number.POSITIVE_INFINITY : tracker_kW * units,
    max_tracker_output_kW: all_kW(tracker_A),
    max_tracker_A: tracker_A === undefined ? null : tracker_A * units,
  };
}

function tracked(array: ArraySpec, bank_V: number): Tracked {
  const { tracker } = array;
  const ac = array.coupling === 'ac';
  const string = panelString(array);
  const input = {
    max_V: tracker.max_input_V ?? null,
    min_V: tracker.min_input_V ?? null,
    max_A: tracker.max_input_A ?? null,
    max_operating_A: tracker.max_operating_A ?? null,
  };
  return {
    name: array.name,
    size_kWp: array.size_kWp,
    max_input_kW: tracker.max_power_kW,
    // check.ts sees to it that the one that counts is there.
    max_output_kW: ac ? tracker.max_output_kW! : ampsAtVolts_kW(tracker.max_charge_A!, bank_V),
    max_charge_A: ac ? null : tracker.max_charge_A!,
    efficiency: tracker.efficiency_share,
    ac,
    built_in: tracker.built_in === true,
    string,
    input,
    works: workingRange(string, input),
  };
}
