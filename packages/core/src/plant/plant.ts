import { ampsAtVolts_kW } from '../basis/units.ts';
import type { ArraySpec, ChargerSpec, Scenario, WiringSpec } from '../scenario/schema.ts';
import { type Bank, buildBank } from './bank.ts';
import { type BankLife, buildBankLife } from './bank-life.ts';
import { buildGenerator, type Generator } from './generator.ts';
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
  readonly name: string;
  readonly size_kWp: number;
  readonly max_input_kW: number;
  readonly max_output_kW: number;
  /** Null for an array on the AC side. */
  readonly max_charge_A: number | null;
  readonly efficiency: number;
  /** True if it feeds the AC side through an inverter of its own, which follows that of the plant. */
  readonly ac?: boolean;
  /** Null where the scenario gives no data sheet of its panels. */
  readonly string: PanelString | null;
  readonly input: TrackerInput;
  /** Cells outside it make a voltage at which the tracker takes nothing. */
  readonly works: WorkingRange;
}

/** The AC charger; null means the generator can't reach the bank. */
export interface Charger {
  readonly max_charge_A: number;
  /** Into the bank, kW DC. */
  readonly max_output_kW: number;
  readonly efficiency: number;
  /** Most it draws on the circuit of the socket, of the generator; left out where that depends on no voltage. */
  readonly max_shore_input_kW?: number;
  readonly max_generator_input_kW?: number;
}

/** A socket that gives power by schedule. */
export interface Shore {
  readonly max_kW: number;
  /** True if it can share the loads with the inverter. */
  readonly parallel: boolean;
}

/** At `shed_soc` the tier is shed, at `restore_soc` it comes back. */
export interface Shedding {
  readonly tier: number;
  readonly shed_soc: number;
  readonly restore_soc: number;
}

/** The plant under test: limits and losses of each part, no time in them. A variation is a new value. */
export interface Plant {
  readonly arrays: readonly Tracked[];
  readonly bank: Bank;
  /** Null where the scenario states no life of the bank. */
  readonly bank_life: BankLife | null;
  readonly inverter: Inverter;
  readonly charger: Charger | null;
  readonly generator: Generator | null;
  readonly shore: Shore | null;
  /** Most that a running engine puts into the DC side through its DC-DC charger, kW; 0 without. */
  readonly engine_charging_kW: number;
  /** By tier, ascending. */
  readonly shedding: readonly Shedding[];
  /** The cable between bank and inverter, as far as the scenario gives it. */
  readonly wiring: WiringSpec | null;
  /** With which the year begins; null if it closes: it begins with the state it ends with. */
  readonly initial_soc: number | null;
}

/** What a charger may draw on a circuit: that of the highest voltage listed which the circuit reaches, 5 % below counting as reached. */
function circuit_kW({ input_at_voltage }: ChargerSpec, voltage_V: number | undefined): number {
  if (input_at_voltage === undefined || voltage_V === undefined) return Number.POSITIVE_INFINITY;
  const reached = input_at_voltage.filter((circuit) => circuit.voltage_V * 0.95 <= voltage_V);
  return reached.reduce((most, circuit) => Math.max(most, circuit.max_input_W), 0) / 1000;
}

/** Builds the plant of a checked scenario. Tracker and charger amps count at the bank's nominal voltage. */
export function plantOf(scenario: Scenario): Plant {
  const bank = buildBank(scenario.bank);
  const volts = bank.nominal_voltage_V;
  return {
    arrays: scenario.arrays.map((array) => tracked(array, volts)),
    bank,
    bank_life: buildBankLife(scenario.bank),
    inverter: buildInverter(scenario.inverter),
    charger:
      scenario.charger === undefined
        ? null
        : {
            max_charge_A: scenario.charger.max_charge_A,
            max_output_kW: ampsAtVolts_kW(scenario.charger.max_charge_A, volts),
            efficiency: scenario.charger.efficiency_share,
            max_shore_input_kW: circuit_kW(scenario.charger, scenario.shore?.voltage_V),
            max_generator_input_kW: circuit_kW(scenario.charger, scenario.generator?.voltage_V),
          },
    generator: scenario.generator === undefined ? null : buildGenerator(scenario.generator),
    shore:
      scenario.shore === undefined
        ? null
        : {
            max_kW: ampsAtVolts_kW(scenario.shore.max_A, scenario.shore.voltage_V),
            parallel: scenario.shore.connection === 'parallel',
          },
    engine_charging_kW:
      scenario.engine_charging === undefined
        ? 0
        : ampsAtVolts_kW(scenario.engine_charging.max_charge_A, volts),
    shedding: scenario.shedding.toSorted((a, b) => a.tier - b.tier),
    wiring: scenario.wiring ?? null,
    initial_soc: scenario.run.initial_soc ?? null,
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
    string,
    input,
    works: workingRange(string, input),
  };
}
