import type { Notice } from '../../basis/notices.ts';
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

interface Rule {
  readonly id: string;
  readonly find: (facts: Facts) => readonly string[];
}

const round = (value: number): number => Number(value.toPrecision(3));

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

/** `; in W, which it looks like, it would be 5 kW`: where the thousandth is a likely figure. */
const ifThousandth = (
  value: number,
  unit: string,
  smaller: string,
  isLikely: (value: number) => boolean,
): string =>
  isLikely(value / 1000) ? `; it looks like ${smaller}, which would be ${round(value / 1000)} ${unit}` : '';

const RULES: readonly Rule[] = [
  {
    id: 'faces-the-pole',
    find: ({ scenario: { arrays, site } }) =>
      arrays.flatMap(({ name, tilt_deg, azimuth_deg }, k) => {
        const north = site.latitude_deg > 0;
        const off_deg = Math.abs(((azimuth_deg - (north ? 0 : 180) + 540) % 360) - 180);
        const tilt = typeof tilt_deg === 'number' ? tilt_deg : Math.max(...tilt_deg);
        if (Math.abs(site.latitude_deg) <= TROPIC_deg || off_deg > AWAY_deg || tilt < FLAT_deg) return [];
        return [
          `arrays[${k}].azimuth_deg: ${name} at ${azimuth_deg}° faces ${north ? 'north' : 'south'}, away from the sun at latitude ${site.latitude_deg}°; azimuths are clockwise from north, so that ${north ? '180 is south' : '0 is north'}`,
        ];
      }),
  },
  {
    id: 'array-out-of-scale',
    find: ({ plant, load_kWh_day }) => {
      const size_kWp = plant.arrays.reduce((sum, array) => sum + array.size_kWp, 0);
      if (load_kWh_day === 0 || size_kWp === 0) return [];
      const of = `${round(size_kWp)} kWp of array for ${round(load_kWh_day)} kWh a day`;
      const isLikely = (kWp: number): boolean =>
        kWp >= LEAST_kWp_per_kWh_day * load_kWh_day && kWp <= MOST_kWp_per_kWh_day * load_kWh_day;
      if (size_kWp > MOST_kWp_per_kWh_day * load_kWh_day) {
        // A bank that is out of scale as well leaves the loads.
        const odd =
          plant.bank.capacity_kWh > MOST_BANK_days * load_kWh_day
            ? `; so is the bank: the loads look like kW, which would be ${round(load_kWh_day * 1000)} kWh a day`
            : ifThousandth(size_kWp, 'kWp', 'W', isLikely);
        return [`${of} is far more than any season asks for${odd}`];
      }
      const others = plant.generator !== null || plant.shore !== null || plant.engine_charging_kW > 0;
      if (size_kWp >= LEAST_kWp_per_kWh_day * load_kWh_day || others) return [];
      const load = isLikely(size_kWp * 1000)
        ? `; the loads look like Wh, which would be ${round(load_kWh_day / 1000)} kWh a day`
        : '';
      return [`${of} can't serve it in any climate, and there is no other source${load}`];
    },
  },
  {
    id: 'bank-out-of-scale',
    find: ({ plant: { bank }, load_kWh_day }) =>
      load_kWh_day > 0 && bank.capacity_kWh > MOST_BANK_days * load_kWh_day
        ? [
            `a bank of ${round(bank.capacity_kWh)} kWh for ${round(load_kWh_day)} kWh a day lasts ${round(bank.capacity_kWh / load_kWh_day)} days: check modules_parallel, capacity_Ah and the watts of the loads`,
          ]
        : [],
  },
  {
    id: 'module-capacity',
    find: ({ scenario: { bank } }) => {
      const { capacity_Ah, nominal_voltage_V } = bank.module;
      if (capacity_Ah * nominal_voltage_V <= MOST_MODULE_kWh * 1000) return [];
      return [
        `bank.module.capacity_Ah: ${capacity_Ah} Ah at ${nominal_voltage_V} V are ${round((capacity_Ah * nominal_voltage_V) / 1000)} kWh in one module; it looks like Wh, which would be ${round(capacity_Ah / nominal_voltage_V)} Ah`,
      ];
    },
  },
  {
    id: 'inverter-out-of-scale',
    find: ({ plant: { inverter }, running_kW }) =>
      running_kW > 0 && inverter.rating_kW > MOST_INVERTER_share * running_kW
        ? [
            `inverter.rating_kW: ${round(inverter.rating_kW)} kW for loads of ${round(running_kW)} kW at most${ifThousandth(inverter.rating_kW, 'kW', 'W', (kW) => kW >= running_kW / 10)}`,
          ]
        : [],
  },
  {
    id: 'idle-draw',
    find: ({ scenario: { inverter } }) => {
      const { standing_W, rating_kW } = inverter;
      const share = standing_W / (1000 * rating_kW);
      if (standing_W === 0 || share >= LEAST_IDLE_share) return [];
      const kilo =
        share * 1000 <= 0.1 ? `; it looks like kW, which would be ${round(standing_W * 1000)} W` : '';
      return [
        `inverter.standing_W: ${standing_W} W drawn by an inverter of ${rating_kW} kW that is on is less than any takes${kilo}`,
      ];
    },
  },
  {
    id: 'start-power',
    find: ({ scenario: { loads } }) =>
      loads.flatMap((load, k) => {
        if (load.kind !== 'appliance' || load.start_W === undefined) return [];
        const { name, power_W, start_W } = load;
        const times = start_W / power_W;
        if (power_W === 0 || times <= MOST_START_times) return [];
        const kilo =
          times / 1000 >= 1 && times / 1000 <= MOST_START_times
            ? `; power_W looks like kW, which would be ${round(power_W * 1000)} W`
            : '';
        return [
          `loads[${k}].start_W: ${name} starts with ${start_W} W, ${round(times)} times its ${power_W} W${kilo}`,
        ];
      }),
  },
  {
    id: 'ac-array-beyond-inverter',
    find: ({ plant: { arrays, inverter } }) => {
      const ac_kW = arrays.reduce((sum, array) => sum + (array.ac === true ? array.max_output_kW : 0), 0);
      if (ac_kW <= MOST_AC_SUN_share * inverter.rating_kW + 1e-9) return [];
      return [
        `arrays on the AC side give ${round(ac_kW)} kW beside an inverter of ${round(inverter.rating_kW)} kW: when loads go off it has to take all of it in, and makers commonly allow no more than its own rating`,
      ];
    },
  },
  {
    id: 'built-in-limits-nothing',
    find: ({ scenario: { inverter, arrays, charger } }) => {
      const tracker = arrays.some((array) => array.tracker.built_in === true);
      const idle = [
        ...(inverter.max_total_charge_A !== undefined && !tracker && charger?.built_in !== true
          ? ['max_total_charge_A']
          : []),
        ...(inverter.max_total_tracker_kW !== undefined && !tracker ? ['max_total_tracker_kW'] : []),
        ...(inverter.max_total_tracker_A !== undefined && !tracker ? ['max_total_tracker_A'] : []),
      ];
      return idle.map(
        (key) =>
          `inverter.${key} limits nothing: no tracker${key === 'max_total_charge_A' ? ' and no charger' : ''} is built_in: true`,
      );
    },
  },
  {
    id: 'one-charger-for-a-stack',
    find: ({ scenario: { inverter, charger } }) =>
      inverter.units > 1 && charger !== undefined && charger.built_in === undefined
        ? [
            `charger.max_charge_A: ${charger.max_charge_A} A are counted once for ${inverter.units} stacked inverters; if each brings such a charger say built_in: true, if not built_in: false`,
          ]
        : [],
  },
  {
    id: 'operating-amps-unplayed',
    find: ({ plant: { arrays } }) =>
      arrays.flatMap(({ string, input, name }, k) =>
        (input.max_operating_A ?? null) !== null && (string === null || string.in_series === null)
          ? [
              `arrays[${k}].tracker.max_operating_A cuts nothing: without panel and panels_in_series the voltage of the strings of ${name} is not known`,
            ]
          : [],
      ),
  },
];

/**
 * What of a plant looks like a slip: for `check` and `run` to say beside the answer.
 *
 * @param scenario as read
 * @param plant made of it
 * @param asked of its loads
 * @returns a notice for each, `count` being 1; empty if nothing does
 */
export const plausibilityNotices = (scenario: Scenario, plant: Plant, asked: Asked): readonly Notice[] =>
  RULES.flatMap(({ id, find }) =>
    find({ scenario, plant, ...asked }).map((message) => ({ id, message, count: 1 })),
  );
