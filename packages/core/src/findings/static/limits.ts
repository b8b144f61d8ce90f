import { ampsAtVolts_kW } from '../../basis/units.ts';
import { type Bank, moduleVoltage_V, peakPower_kW } from '../../plant/bank.ts';
import { outputFrom } from '../../plant/inverter.ts';
import type { Charger, Plant, Tracked } from '../../plant/plant.ts';
import { CEC_WEIGHTS, EUROPEAN_WEIGHTS, weightedEfficiency } from '../../plant/weighted-efficiency.ts';
import { type BankConductor, bankConductor } from '../../wiring/bank-conductor.ts';

/** One candidate for what sets a figure. */
export interface Limit {
  /** Words a practitioner reads: `bank discharge current, 1 × 100 A at 48 V`. */ readonly what: string;
  /** What it alone would allow. */ readonly limit_kW: number;
}

/** A static figure and what stands behind it: limits ascending, the first one sets it. */
export interface StaticFigure {
  /** Null if the plant can't do this at all, e.g. AC charging without a charger. */
  readonly figure_kW: number | null;
  /** Ascending. */ readonly limits: readonly Limit[];
}

/** What the plant can do before an hour is played, and what limits it. */
export interface StaticLimits {
  /** Of the bank, at its nominal voltage. */ readonly capacity_kWh: number;
  /** Of it, above the floor. */ readonly usable_kWh: number;
  /** Continuous, on the DC side of the inverter where the bank's amps bind, without sun. */
  readonly ac_output: StaticFigure & {
    /** What is left of it on the AC side after the inverter's own losses. */
    readonly after_inverter_loss_kW: number;
  };
  /** For a moment, at a motor's start. Where the modules' peak is not given their continuous amps are shown. */
  readonly surge: StaticFigure;
  /** Weighted over loads as data sheets do (European, JRC Ispra; CEC, Bower et al. 2004): grid inverters' loads, not these. */
  readonly inverter_efficiency: { readonly european_share: number; readonly cec_share: number };
  /** From the sun into the bank. */ readonly solar_charging: StaticFigure;
  /** From generator, socket or arrays on the AC side into the bank. */ readonly ac_charging: StaticFigure;
  /** The cable between bank and inverter and its fuse or breaker: what the tables say, no choice of a part. */
  readonly bank_conductor: BankConductor;
}

/** Array power at standard test conditions that the amps of the tracker's input let through; null where they are not known. */
function operatingInput_kW({ string, input: { max_operating_A = null } }: Tracked): number | null {
  if (max_operating_A === null || string === null || string.in_series === null) return null;
  return (string.in_series * string.panel.vmp_V * max_operating_A) / 1000;
}

/** Largest continuous power after conversion to the bank's side: the array's nameplate and the limits of its tracker. */
const trackerOutput_kW = (t: Tracked): number =>
  Math.min(
    t.efficiency * Math.min(t.size_kWp, t.max_input_kW, operatingInput_kW(t) ?? Number.POSITIVE_INFINITY),
    t.max_output_kW,
  );

const sum = <T>(items: readonly T[], value: (item: T) => number): number =>
  items.reduce((total, item) => total + value(item), 0);

const ascending = (limits: readonly Limit[]): readonly Limit[] =>
  [...limits].sort((a, b) => a.limit_kW - b.limit_kW);

const figure = (limits: readonly Limit[]): StaticFigure => {
  const sorted = ascending(limits);
  return { figure_kW: sorted[0]?.limit_kW ?? null, limits: sorted };
};

/** `4 modules`; with older ones among them, how many new ones carry as much: `4 modules and 2 older, which carry as 5.33`. */
function modulesThatCarry({ modules_parallel: n, older, current_modules }: Bank): string {
  const modules = `${n} ${n === 1 ? 'module' : 'modules'}`;
  if (older.length === 0) return modules;
  const count = older.reduce((sum, group) => sum + group.modules, 0);
  return `${modules} and ${count} older, which carry as ${Number(current_modules.toPrecision(3))}`;
}

/** `51.2 V`; of a resistive bank that at its terminals at half charge. */
const terminalVoltage = (bank: Bank, charge_A: number): string =>
  bank.model.kind === 'resistive'
    ? `${moduleVoltage_V(bank, charge_A).toFixed(1)} V, half charged`
    : `${bank.nominal_voltage_V} V`;

/**
 * What a plant can do before an hour is played: for each figure the limits in ascending order, the first of which sets
 * it. Amps become kW at the bank's nominal voltage: 100 A at 48 V is 4.8 kW (common practice, no source). A charge
 * limit caps what goes into the bank; in a played hour load served at the same time comes on top of it.
 */
export function staticLimits(plant: Plant): StaticLimits {
  const { bank, inverter, charger, all_in_one } = plant;
  // Arrays on the AC side charge through the charger.
  const arrays = plant.arrays.filter((array) => array.ac !== true);
  const modules = modulesThatCarry(bank);
  const volts = `${bank.nominal_voltage_V} V`;
  const bankDischarge: Limit = {
    what: `bank discharge current: ${modules} × ${bank.module_max_discharge_A} A at ${terminalVoltage(bank, -bank.module_max_discharge_A)}`,
    limit_kW: bank.max_discharge_kW,
  };
  const bankCharge: Limit = {
    what: `bank charge current: ${modules} × ${bank.module_max_charge_A} A at ${terminalVoltage(bank, bank.module_max_charge_A)}`,
    limit_kW: bank.max_charge_kW,
  };
  const allCharging: Limit[] =
    all_in_one === null || all_in_one.max_charge_A === null
      ? []
      : [
          {
            what: `all charging of the all-in-one: ${all_in_one.max_charge_A} A at ${volts}${
              ampsAtVolts_kW(all_in_one.max_charge_A, bank.nominal_voltage_V) < all_in_one.max_charge_kW
                ? ', and what charges beside it'
                : ''
            }`,
            limit_kW: all_in_one.max_charge_kW,
          },
        ];
  const { units } = inverter;
  const rating: Limit = {
    what:
      units === 1
        ? 'inverter rating'
        : `inverter rating: ${units} × ${Number((inverter.rating_kW / units).toPrecision(6))} kW`,
    limit_kW: inverter.rating_kW,
  };

  // Which of the two binds is decided on the AC side, where the losses of the inverter count against the bank.
  const fromBank_kW = outputFrom(inverter.curve, bank.max_discharge_kW);
  const output = fromBank_kW < inverter.rating_kW ? [bankDischarge, rating] : [rating, bankDischarge];

  const onAc_kW = sum(
    plant.arrays.filter((array) => array.ac === true),
    trackerOutput_kW,
  );
  const fromAc_kW = charger === null ? 0 : Math.min(onAc_kW * charger.efficiency, charger.max_output_kW);
  const past =
    onAc_kW === 0 ? '' : `, and ${Number(fromAc_kW.toPrecision(3))} kW of the AC side through the charger`;
  const solar: Limit[] = [
    bankCharge,
    ...(arrays.length === 0
      ? []
      : [
          {
            what: `tracker current: ${arrays.map((t) => `${t.max_charge_A} A`).join(' + ')} at ${volts}${past}`,
            limit_kW: sum(arrays, (t) => t.max_output_kW) + fromAc_kW,
          },
          {
            what: `tracker input power, after conversion${past}`,
            limit_kW: sum(arrays, (t) => t.max_input_kW * t.efficiency) + fromAc_kW,
          },
        ]),
    {
      what:
        arrays.length === 0 && onAc_kW > 0
          ? 'arrays on the AC side, through the charger'
          : `array size, after conversion${past}`,
      limit_kW: sum(arrays, (t) => t.size_kWp * t.efficiency) + fromAc_kW,
    },
  ];
  const beside_kW =
    sum(
      arrays.filter((t) => !isBuiltIn(t)),
      trackerOutput_kW,
    ) + fromAc_kW;
  solar.push(...operating(arrays, fromAc_kW, past), ...allTrackers(plant, beside_kW), ...allCharging);
  const builtIn_kW = Math.min(
    sum(arrays.filter(isBuiltIn), trackerOutput_kW),
    ...allTrackers(plant, 0).map(({ limit_kW }) => limit_kW),
  );
  const arrayByArray_kW = builtIn_kW + beside_kW;
  if (solar.every((limit) => arrayByArray_kW < limit.limit_kW - 1e-9)) {
    solar.push({ what: 'arrays and trackers, one by one', limit_kW: arrayByArray_kW });
  }

  const acCharging: Limit[] = [];
  const best =
    charger === null ? undefined : chargingSources(plant, charger).sort((a, b) => b.limit_kW - a.limit_kW)[0];
  // A charger without a source behind it, as an all-in-one has one on sun alone, charges nothing.
  if (charger !== null && best !== undefined) {
    acCharging.push(
      { what: `charger current: ${charger.max_charge_A} A at ${volts}`, limit_kW: charger.max_output_kW },
      bankCharge,
      ...allCharging,
      best,
    );
  }

  return {
    capacity_kWh: bank.capacity_kWh,
    usable_kWh: bank.capacity_kWh - bank.floor_kWh,
    ac_output: {
      figure_kW: output[0]!.limit_kW,
      limits: output,
      after_inverter_loss_kW: Math.min(fromBank_kW, inverter.rating_kW),
    },
    surge: figure([
      { what: 'inverter surge rating', limit_kW: inverter.surge_kW },
      bank.module_peak_discharge_A === null
        ? {
            what: `${bankDischarge.what}, continuous; the modules' peak is not in the file`,
            limit_kW: bank.max_discharge_kW,
          }
        : {
            what: `bank peak current: ${modules} × ${bank.module_peak_discharge_A} A at ${terminalVoltage(bank, -bank.module_peak_discharge_A)}`,
            limit_kW: peakPower_kW(bank, bank.module_peak_discharge_A),
          },
    ]),
    inverter_efficiency: {
      european_share: weightedEfficiency(inverter, EUROPEAN_WEIGHTS),
      cec_share: weightedEfficiency(inverter, CEC_WEIGHTS),
    },
    solar_charging: figure(solar),
    ac_charging: figure(acCharging),
    bank_conductor: bankConductor(plant),
  };
}

const isBuiltIn = (array: Tracked): boolean => array.built_in === true;

/** What the trackers' inputs let through by their amps, where that is known of each of them. */
function operating(arrays: readonly Tracked[], fromAc_kW: number, past: string): Limit[] {
  const most_kW = arrays.map(operatingInput_kW);
  if (arrays.length === 0 || most_kW.includes(null)) return [];
  return [
    {
      what: `operating current of tracker inputs: ${arrays
        .map(
          ({ string, input }) =>
            `${input.max_operating_A} A at ${round(string!.in_series! * string!.panel.vmp_V)} V`,
        )
        .join(' + ')}, after conversion${past}`,
      limit_kW: arrays.reduce((total, t, k) => total + most_kW[k]! * t.efficiency, fromAc_kW),
    },
  ];
}

const round = (value: number): number => Number(value.toPrecision(3));

/**
 * Limits over all trackers of an all-in-one.
 *
 * @param beside_kW what else reaches the bank from the sun
 */
function allTrackers({ arrays, all_in_one, bank }: Plant, beside_kW: number): Limit[] {
  if (all_in_one === null) return [];
  const { max_tracker_A, max_tracker_output_kW, max_tracker_input_kW } = all_in_one;
  const best = Math.max(0, ...arrays.filter(isBuiltIn).map((t) => t.efficiency));
  const beside = beside_kW > 0 ? ', and what charges beside them' : '';
  const found: Limit[] = [];
  if (Number.isFinite(max_tracker_input_kW))
    found.push({
      what: `input power of all trackers of the all-in-one: ${round(max_tracker_input_kW)} kW, after conversion${beside}`,
      limit_kW: max_tracker_input_kW * best + beside_kW,
    });
  if (max_tracker_A !== null)
    found.push({
      what: `current of all trackers of the all-in-one: ${max_tracker_A} A at ${bank.nominal_voltage_V} V${beside}`,
      limit_kW: max_tracker_output_kW + beside_kW,
    });
  return found;
}

/** What each source puts into the bank through the charger, with no load on it. */
function chargingSources({ generator, shore, arrays }: Plant, charger: Charger): Limit[] {
  const { max_generator_input_kW = Number.POSITIVE_INFINITY, max_shore_input_kW = Number.POSITIVE_INFINITY } =
    charger;
  const found: Limit[] = [];
  const add = (source: string, source_kW: number, circuit_kW: number): void => {
    const what =
      circuit_kW < source_kW
        ? `what the charger draws on the circuit of the ${source}, after conversion`
        : `${source === 'socket' ? 'amps of the socket' : 'generator rating'}, after the charger, with no load on it`;
    found.push({ what, limit_kW: Math.min(source_kW, circuit_kW) * charger.efficiency });
  };
  if (generator !== null) add('generator', generator.rating_kW, max_generator_input_kW);
  if (shore !== null) add('socket', shore.max_kW, max_shore_input_kW);
  const onAc_kW = sum(
    arrays.filter((array) => array.ac === true),
    trackerOutput_kW,
  );
  if (onAc_kW > 0)
    found.push({
      what: 'arrays on the AC side, after the charger, with no load on them',
      limit_kW: onAc_kW * charger.efficiency,
    });
  return found;
}
