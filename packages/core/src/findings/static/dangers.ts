import { openVoltage_V } from '../../plant/panel-string.ts';
import type { Plant } from '../../plant/plant.ts';
import { bankConductor } from '../../wiring/bank-conductor.ts';
import { MAXIMUM_CURRENT_FACTOR } from '../../wiring/cold-voltage.ts';
import type { PreparedYear } from '../../year.ts';
import { coldestAir, coldestStep } from './strings.ts';

/** What can destroy a part or start a fire, known before an hour is played. */
export interface Danger {
  readonly id:
    | 'string_voltage'
    | 'string_current'
    | 'voltage_limit_missing'
    | 'current_limit_missing'
    | 'cable_current'
    | 'shore_cable'
    | 'frost_charging';
  /** Key of the scenario that it is about. */ readonly path: string;
  /** What there is, and what is stood, in `unit`; the limit is null where the scenario does not say it. */
  readonly figure: number;
  /** Null where the scenario does not say it. */ readonly limit: number | null;
  /** Of both. */ readonly unit: 'V' | 'A' | '°C';
  /** What was found, with its figures. */ readonly found: string;
  /** What can come of it. */ readonly consequence: string;
  /** What to do about it. */ readonly remedy: string;
}

const ARC = 'That can destroy it, and start a fire.';
const HEAT = 'It overheats, and can start a fire.';

/**
 * Dangers of a plant, in the order of the scenario, from its parts, the record cold and the temperature of the bank: no
 * hour is played for them, and a study asks this of each design. None found is no proof that there is none.
 *
 * Source: of voltage and current see `stringFindings`, of the cable `bankConductor`.
 */
export function dangersOf(year: PreparedYear, plant: Plant): readonly Danger[] {
  return [
    ...plant.arrays.flatMap((_, k) => ofString(year, plant, k)),
    ...ofFrost(year, plant),
    ...ofCable(plant),
    ...ofShore(year),
  ];
}

/**
 * True if a danger is none of those that were there before, or worse than it was.
 *
 * @param before dangers of the plant before it was changed
 */
export const isNewDanger = (danger: Danger, before: readonly Danger[]): boolean =>
  !before.some(
    (known) => known.id === danger.id && known.path === danger.path && beyond(danger) <= beyond(known) + 1e-9,
  );

/** How far it is beyond what is stood; frost is beyond below it. */
const beyond = ({ figure, limit, unit }: Danger): number =>
  unit === '°C' ? (limit ?? 0) - figure : figure - (limit ?? 0);

function ofString(year: PreparedYear, { arrays }: Plant, k: number): Danger[] {
  const { name, size_kWp, string, input } = arrays[k]!;
  // Where no panels are counted, none are there; where they are not said to hang in series, one at least hangs.
  if (string === null || size_kWp === 0) return [];
  const { panel, in_series, strings } = string;
  const dangers: Danger[] = [];
  const at = `arrays[${k}].tracker`;
  const { air_C } = coldestAir(year);
  const cold_V = (in_series ?? 1) * openVoltage_V(panel, air_C);
  const most_A = (strings ?? 1) * panel.isc_A * MAXIMUM_CURRENT_FACTOR;
  const some = (count: number | null, one: string, many: string): string =>
    count === null || count === 1 ? `one ${one}` : `${count} ${many}`;
  const panels = some(in_series, 'panel alone', 'panels in series');
  const side = some(strings, 'string', 'strings side by side');
  if (input.max_V !== null && cold_V > input.max_V + 1e-9) {
    dangers.push({
      id: 'string_voltage',
      path: `${at}.max_input_V`,
      figure: cold_V,
      limit: input.max_V,
      unit: 'V',
      found: `${name}: ${panels} can give ${V(cold_V)} at the record cold of ${air_C.toFixed(1)} °C, and the tracker's input stands ${V(input.max_V)}.`,
      consequence: ARC,
      remedy: 'Hang fewer panels in series, or take a tracker whose input stands more.',
    });
  }
  if (input.max_A !== null && most_A > input.max_A + 1e-9) {
    dangers.push({
      id: 'string_current',
      path: `${at}.max_input_A`,
      figure: most_A,
      limit: input.max_A,
      unit: 'A',
      found: `${name}: ${side} can give ${A(most_A)} in short circuit (1.25 times the panels' rating, for bright light), and the tracker's input stands ${A(input.max_A)}.`,
      consequence: ARC,
      remedy: 'Put fewer strings on one input, or take a tracker whose input stands more.',
    });
  }
  if (in_series === null) return dangers;
  if (input.max_V === null) {
    dangers.push({
      id: 'voltage_limit_missing',
      path: `${at}.max_input_V`,
      figure: cold_V,
      limit: null,
      unit: 'V',
      found: `${name}: ${panels} can give ${V(cold_V)} at the record cold of ${air_C.toFixed(1)} °C, and the file does not say what the tracker's input stands.`,
      consequence: 'More than it stands can destroy it, and start a fire.',
      remedy: 'Give max_input_V of its data sheet.',
    });
  }
  if (input.max_A === null && strings !== null) {
    dangers.push({
      id: 'current_limit_missing',
      path: `${at}.max_input_A`,
      figure: most_A,
      limit: null,
      unit: 'A',
      found: `${name}: ${side} can give ${A(most_A)} in short circuit, and the file does not say what the tracker's input stands.`,
      consequence: 'More than it stands can destroy it, and start a fire.',
      remedy: 'Give max_input_A of its data sheet, the short-circuit rating.',
    });
  }
  return dangers;
}

/** Below it lithium is plated on the anode of a cell that is charged. Common practice, no source. */
const PLATING_C = 0;

/** A lithium bank that may be charged in frost, with no word of the fewer amps that it takes then. */
function ofFrost({ bank_temperature_C }: PreparedYear, { bank }: Plant): Danger[] {
  const { chemistry, min_charge_temperature_C: allowed_C, charge_A_at_temperature, heater } = bank;
  if (chemistry !== 'lfp' || allowed_C >= PLATING_C || charge_A_at_temperature.length > 0) return [];
  if (heater !== null && heater.keep_C >= PLATING_C) return [];
  const coldest_C = bank_temperature_C[coldestStep(bank_temperature_C)]!;
  if (coldest_C >= PLATING_C) return [];
  return [
    {
      id: 'frost_charging',
      path: 'bank.min_charge_temperature_C',
      figure: Math.max(coldest_C, allowed_C),
      limit: PLATING_C,
      unit: '°C',
      found: `The lithium bank gets down to ${coldest_C.toFixed(1)} °C and may be charged down to ${allowed_C} °C, at all its amps.`,
      consequence: 'Charging in frost plates lithium in the cells, which can short them and start a fire.',
      remedy:
        'Give the limit of the data sheet; if it does allow that, its amps by temperature as max_charge_A_at_temperature.',
    },
  ];
}

/** A cable whose largest fuse would blow in ordinary service: with a larger one the cable burns first. */
function ofCable(plant: Plant): Danger[] {
  const { wiring } = plant;
  if (wiring === null || (wiring.cable_AWG === undefined && wiring.cable_mm2 === undefined)) return [];
  const { continuous_A, overcurrent, cable, units } = bankConductor(plant);
  if (continuous_A <= overcurrent.most_A + 1e-9) return [];
  const size = cable.parallel === 1 ? cable.size : `${cable.parallel} × ${cable.size}`;
  return [
    {
      id: 'cable_current',
      path: wiring.cable_AWG === undefined ? 'wiring.cable_mm2' : 'wiring.cable_AWG',
      figure: continuous_A,
      limit: overcurrent.most_A,
      unit: 'A',
      found: `The cable between bank and inverter${units === 1 ? '' : ', of each unit,'} can carry ${A(continuous_A)} for hours, and ${size} may be fused with ${A(overcurrent.most_A)} at most.`,
      consequence: HEAT,
      remedy: 'Take a larger cable: check names one that carries it where the file names none.',
    },
  ];
}

function ofShore({ scenario: { shore } }: PreparedYear): Danger[] {
  if (shore?.cable_A === undefined || shore.max_A <= shore.cable_A + 1e-9) return [];
  return [
    {
      id: 'shore_cable',
      path: 'shore.cable_A',
      figure: shore.max_A,
      limit: shore.cable_A,
      unit: 'A',
      found: `The socket gives ${A(shore.max_A)}, and the cable to it carries ${A(shore.cable_A)}.`,
      consequence: HEAT,
      remedy: 'Take a cable and plugs for the amps of the socket, or a breaker of the amps of the cable.',
    },
  ];
}

const V = (value: number): string => `${value.toFixed(value < 100 ? 1 : 0)} V`;
const A = (value: number): string => `${value.toFixed(1)} A`;
