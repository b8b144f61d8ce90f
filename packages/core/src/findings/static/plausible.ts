import type { FoundIn } from '../../basis/notices.ts';
import type { Plant } from '../../plant/plant.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';

/**
 * Figures that can be meant but seldom are: another unit, a sign, a forgotten part. Said beside the answer, never
 * refused. One rule each, with its limit and the reason for it; limits without a source are our own.
 */

/** What a plant is held against. */
interface Asked {
  /** On a mean day. */
  readonly load_kWh_day: number;
  /** All that may be on at once on the AC side. */
  readonly running_kW: number;
}

interface Facts extends Asked {
  readonly scenario: Scenario;
  readonly plant: Plant;
}

/** Within this of north or south a tilted array looks away from the sun; north-east and north-west roofs are common. */
const AWAY_deg = 45;
/** Flatter ones hardly care. Common practice, no source. */
const FLAT_deg = 10;
/** Latitude of the tropics: between them the sun stands on either side in the course of the year. */
const TROPIC_deg = 23.44;

/** A kWp brings 0.05 kWh a day in a dull northern December: more array than this serves no load. Common practice, no source. */
const MOST_kWp_per_kWh_day = 20;
/** A kWp never brings as much on a mean day: the sunniest places on a good slope reach some 7 kWh. Common practice, no source. */
const LEAST_kWp_per_kWh_day = 0.1;
/** Ten weeks, the longest night that people live through, and half as much again. Common practice, no source. */
const MOST_BANK_days = 100;
/** The largest fork-lift battery of 48 V is about as much. Common practice, no source. */
const MOST_MODULE_kWh = 100;
/** Inverters are bought at 2 to 20 times what is on. Common practice, no source. */
const MOST_INVERTER_share = 200;
/** Even a sleeping inverter looks for loads with more than half a thousandth of its rating. Common practice, no source. */
const LEAST_IDLE_share = 0.0005;
/** Motors take 3 to 8 times their running power at their start, small compressors up to 12. Common practice, no source. */
const MOST_START_times = 20;
/** When loads go off, the battery inverter has to take in all that theirs give. Common practice, no source. */
const MOST_AC_SUN_share = 1;

/** What it would be in the thousandth unit, where that is likely. */
const ifLikely = (value: number, isLikely: (value: number) => boolean): number | null =>
  isLikely(value) ? value : null;

/** What each finds; `..._meant` is a likely figure if another unit was meant, null if none is. */
const RULES = {
  'faces-the-pole': ({ scenario: { arrays, site } }) =>
    arrays.flatMap(({ name, tilt_deg, azimuth_deg }, k) => {
      const { latitude_deg } = site;
      const off_deg = Math.abs(((azimuth_deg - (latitude_deg > 0 ? 0 : 180) + 540) % 360) - 180);
      const tilt = typeof tilt_deg === 'number' ? tilt_deg : Math.max(...tilt_deg);
      if (Math.abs(latitude_deg) <= TROPIC_deg || off_deg > AWAY_deg || tilt < FLAT_deg) return [];
      return [{ path: `arrays[${k}].azimuth_deg`, array: name, azimuth_deg, latitude_deg }];
    }),
  'array-too-large': ({ plant, load_kWh_day }) => {
    const size_kWp = sizeOf(plant);
    if (load_kWh_day === 0 || size_kWp <= MOST_kWp_per_kWh_day * load_kWh_day) return [];
    // A bank that is out of scale as well leaves the loads.
    const isOddBank = plant.bank.capacity_kWh > MOST_BANK_days * load_kWh_day;
    return [
      {
        size_kWp,
        load_kWh_day,
        size_meant_kWp: isOddBank ? null : ifLikely(size_kWp / 1000, isLikelySize(load_kWh_day)),
        load_meant_kWh_day: isOddBank ? load_kWh_day * 1000 : null,
      },
    ];
  },
  'array-too-small': ({ plant, load_kWh_day }) => {
    const size_kWp = sizeOf(plant);
    const others = plant.generator !== null || plant.shore !== null || plant.alternator_kW > 0;
    if (size_kWp === 0 || size_kWp >= LEAST_kWp_per_kWh_day * load_kWh_day || others) return [];
    const isWh = isLikelySize(load_kWh_day)(size_kWp * 1000);
    return [{ size_kWp, load_kWh_day, load_meant_kWh_day: isWh ? load_kWh_day / 1000 : null }];
  },
  'bank-out-of-scale': ({ plant: { bank }, load_kWh_day }) => {
    const { capacity_kWh } = bank;
    if (load_kWh_day === 0 || capacity_kWh <= MOST_BANK_days * load_kWh_day) return [];
    return [{ capacity_kWh, load_kWh_day, lasts_days: capacity_kWh / load_kWh_day }];
  },
  'module-capacity': ({ scenario: { bank } }) => {
    const { capacity_Ah, nominal_voltage_V } = bank.module;
    const capacity_kWh = (capacity_Ah * nominal_voltage_V) / 1000;
    if (capacity_kWh <= MOST_MODULE_kWh) return [];
    return [{ capacity_Ah, nominal_voltage_V, capacity_kWh, meant_Ah: capacity_Ah / nominal_voltage_V }];
  },
  'inverter-out-of-scale': ({ plant: { inverter }, running_kW }) => {
    const { rating_kW } = inverter;
    if (running_kW === 0 || rating_kW <= MOST_INVERTER_share * running_kW) return [];
    return [{ rating_kW, running_kW, meant_kW: ifLikely(rating_kW / 1000, (kW) => kW >= running_kW / 10) }];
  },
  'idle-draw': ({ scenario: { inverter } }) => {
    const { idle_W, rating_kW } = inverter;
    const share = idle_W / (1000 * rating_kW);
    if (idle_W === 0 || share >= LEAST_IDLE_share) return [];
    return [{ idle_W, rating_kW, meant_W: share * 1000 <= 0.1 ? idle_W * 1000 : null }];
  },
  'start-power': ({ scenario: { loads } }) =>
    loads.flatMap((load, k) => {
      if (load.kind !== 'appliance' || load.start_W === undefined) return [];
      const { name, power_W, start_W } = load;
      const times = start_W / power_W;
      if (power_W === 0 || times <= MOST_START_times) return [];
      const isKilo = times / 1000 >= 1 && times / 1000 <= MOST_START_times;
      const power_meant_W = isKilo ? power_W * 1000 : null;
      return [{ path: `loads[${k}].start_W`, load: name, start_W, power_W, times, power_meant_W }];
    }),
  'ac-array-beyond-inverter': ({ plant: { arrays, inverter } }) => {
    const { rating_kW } = inverter;
    const arrays_kW = arrays.reduce((sum, array) => sum + (array.ac === true ? array.max_output_kW : 0), 0);
    return arrays_kW <= MOST_AC_SUN_share * rating_kW + 1e-9 ? [] : [{ arrays_kW, rating_kW }];
  },
  'built-in-limits-nothing': ({ scenario: { inverter, arrays, charger } }) => {
    const tracker = arrays.some((array) => array.tracker.built_in === true);
    const keys = ['max_total_charge_A', 'max_total_tracker_kW', 'max_total_tracker_A'] as const;
    return keys
      .filter(
        (key) =>
          inverter[key] !== undefined &&
          !tracker &&
          !(key === 'max_total_charge_A' && charger?.built_in === true),
      )
      .map((key) => ({ key }));
  },
  'one-charger-for-a-stack': ({ scenario: { inverter, charger } }) =>
    inverter.units > 1 && charger !== undefined && charger.built_in === undefined
      ? [{ max_charge_A: charger.max_charge_A, units: inverter.units }]
      : [],
  'operating-amps-unplayed': ({ plant: { arrays } }) =>
    arrays.flatMap(({ string, input, name }, k) =>
      (input.max_operating_A ?? null) !== null && (string === null || string.in_series === null)
        ? [{ path: `arrays[${k}].tracker.max_operating_A`, array: name }]
        : [],
    ),
} satisfies Readonly<Record<string, (facts: Facts) => readonly object[]>>;

/** What looks like a slip, by the rule that found it. */
export type PlausibilityNotice = FoundIn<{
  [Id in keyof typeof RULES]: ReturnType<(typeof RULES)[Id]>[number];
}>;

const sizeOf = ({ arrays }: Plant): number => arrays.reduce((sum, array) => sum + array.size_kWp, 0);

const isLikelySize =
  (load_kWh_day: number) =>
  (kWp: number): boolean =>
    kWp >= LEAST_kWp_per_kWh_day * load_kWh_day && kWp <= MOST_kWp_per_kWh_day * load_kWh_day;

/**
 * What of a plant looks like a slip: for `check` and `run` to say beside the answer.
 *
 * @param scenario as read
 * @param plant made of it
 * @param asked of its loads
 * @returns a notice for each; empty if nothing does
 */
export function plausibilityNotices(
  scenario: Scenario,
  plant: Plant,
  asked: Asked,
): readonly PlausibilityNotice[] {
  const facts = { scenario, plant, ...asked };
  return (Object.keys(RULES) as (keyof typeof RULES)[]).flatMap((id) =>
    RULES[id](facts).map((values) => ({ id, values }) as PlausibilityNotice),
  );
}
