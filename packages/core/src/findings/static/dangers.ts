import { expectArgument } from '../../basis/arguments.ts';
import type { OneOf } from '../../basis/notices.ts';
import { openVoltage_V } from '../../plant/panel-string.ts';
import type { Plant } from '../../plant/plant.ts';
import { bankConductor } from '../../wiring/bank-conductor.ts';
import { MAXIMUM_CURRENT_FACTOR } from '../../wiring/cold-voltage.ts';
import type { PreparedYear } from '../../year.ts';
import { coldestAir, coldestStep } from './strings.ts';

/** Panels in series; null where the scenario does not count them: one at least hangs there. */
interface InSeries {
  array: string;
  in_series: number | null;
  /** Record cold that the voltage is worked out at. */
  air_C: number;
}

/** Strings side by side; null where the scenario does not count them: one at least is there. */
interface Strings {
  array: string;
  strings: number | null;
}

/** What can destroy a part or start a fire, by its kind, and of what. */
export type DangerReason = OneOf<{
  string_voltage: InSeries;
  voltage_limit_missing: InSeries;
  string_current: Strings;
  current_limit_missing: Strings;
  frost_charging: { coldest_C: number; allowed_C: number };
  cable_current: { cable_size: string; cables_parallel: number; inverter_units: number };
  shore_cable: object;
  diversion_load: { source: string };
}>;

/** What can destroy a part or start a fire, known before an hour is played. */
export type Danger = DangerReason & {
  /** Key of the scenario that it is about. */ readonly path: string;
  /** What there is, and what is stood, in `unit`; the limit is null where the scenario does not say it. */
  readonly figure: number;
  /** Null where the scenario does not say it. */ readonly limit: number | null;
  /** Of both. */ readonly unit: 'V' | 'A' | 'W' | '°C';
};

/**
 * Dangers of a plant, in the order of the scenario, from its parts, the record cold and the temperature of the bank: no
 * hour is played for them, and a study asks this of each design. None found is no proof that there is none.
 *
 * Source: of voltage and current see `stringFindings`, of the cable `bankConductor`.
 */
export function dangersOf(year: PreparedYear, plant: Plant): readonly Danger[] {
  expectArgument('dangersOf', 'year', year, 'year');
  expectArgument('dangersOf', 'plant', plant, 'plant');
  return [
    ...plant.arrays.flatMap((_, k) => ofString(year, plant, k)),
    ...ofFrost(year, plant),
    ...ofCable(plant),
    ...ofShore(year),
    ...ofDiversion(year),
  ];
}

/**
 * True if a danger is none of those that were there before, or worse than it was.
 *
 * @param before dangers of the plant before it was changed
 */
export const isNewDanger = (danger: Danger, before: readonly Danger[]): boolean =>
  !before.some((known) => isSame(danger, known) && beyond(danger) <= beyond(known) + 1e-9);

const isSame = (danger: Danger, other: Danger): boolean =>
  danger.id === other.id && danger.path === other.path;

/**
 * The dangers of several years, each as far beyond what is stood as in the worst of them.
 *
 * @param first of one year
 * @param others of the other years
 */
export const worstDangers = (
  first: readonly Danger[],
  ...others: readonly (readonly Danger[])[]
): readonly Danger[] =>
  others
    .flat()
    .reduce(
      (worst, danger) =>
        isNewDanger(danger, worst) ? [...worst.filter((known) => !isSame(danger, known)), danger] : worst,
      first,
    );

/** How far it is beyond what is stood; frost is beyond below it. */
const beyond = ({ figure, limit, unit }: Danger): number =>
  unit === '°C' ? (limit ?? 0) - figure : figure - (limit ?? 0);

function ofString(year: PreparedYear, { arrays }: Plant, k: number): Danger[] {
  const { name, size_kWp, string, input } = arrays[k]!;
  // Where no panels are counted, none are there; where they are not said to hang in series, one at least hangs.
  if (string === null || size_kWp === 0) return [];
  const { panel, in_series, strings } = string;
  const { max_V, max_A } = input;
  const at = `arrays[${k}].tracker`;
  const { air_C } = coldestAir(year);
  const cold_V = (in_series ?? 1) * openVoltage_V(panel, air_C);
  const most_A = (strings ?? 1) * panel.isc_A * MAXIMUM_CURRENT_FACTOR;
  const volts = {
    path: `${at}.max_input_V`,
    figure: cold_V,
    unit: 'V',
    array: name,
    in_series,
    air_C,
  } as const;
  const amps = { path: `${at}.max_input_A`, figure: most_A, unit: 'A', array: name, strings } as const;
  const dangers: Danger[] = [];
  if (max_V !== null && cold_V > max_V + 1e-9) dangers.push({ id: 'string_voltage', limit: max_V, ...volts });
  if (max_A !== null && most_A > max_A + 1e-9) dangers.push({ id: 'string_current', limit: max_A, ...amps });
  if (in_series === null) return dangers;
  if (max_V === null) dangers.push({ id: 'voltage_limit_missing', limit: null, ...volts });
  if (max_A === null && strings !== null) dangers.push({ id: 'current_limit_missing', limit: null, ...amps });
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
      coldest_C,
      allowed_C,
    },
  ];
}

/** A cable whose largest fuse would blow in ordinary service: with a larger one the cable burns first. */
function ofCable(plant: Plant): Danger[] {
  const { wiring } = plant;
  if (wiring === null || (wiring.cable_AWG === undefined && wiring.cable_mm2 === undefined)) return [];
  const { continuous_A, overcurrent, cable, units } = bankConductor(plant);
  if (continuous_A <= overcurrent.most_A + 1e-9) return [];
  return [
    {
      id: 'cable_current',
      path: wiring.cable_AWG === undefined ? 'wiring.cable_mm2' : 'wiring.cable_AWG',
      figure: continuous_A,
      limit: overcurrent.most_A,
      unit: 'A',
      cable_size: cable.size,
      cables_parallel: cable.parallel,
      inverter_units: units,
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
    },
  ];
}

/** A diversion load that is smaller than what the source makes at most: the rest makes it run away. */
function ofDiversion({ scenario, others }: PreparedYear): Danger[] {
  return (scenario.other_sources ?? []).flatMap(({ name, diversion_W }, k) => {
    if (diversion_W === undefined) return [];
    const most_W = 1000 * others[k]!.power_kW.reduce((most, kW) => Math.max(most, kW), 0);
    if (most_W <= diversion_W + 1e-6) return [];
    const path = `other_sources[${k}].diversion_W`;
    return [{ id: 'diversion_load', path, figure: most_W, limit: diversion_W, unit: 'W', source: name }];
  });
}
