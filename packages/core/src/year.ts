import { prepareArray } from './array/prepare.ts';
import type { ArrayYear } from './array/types.ts';
import { uniformDraws } from './basis/draws.ts';
import { memo, ofObject } from './basis/memo.ts';
import type { Assumption, Notice } from './basis/notices.ts';
import { buildClock, type Clock } from './clock/clock.ts';
import { followsAir, prepareLoads } from './loads/prepare.ts';
import type { LoadYear } from './loads/types.ts';
import { wallClock } from './loads/wall.ts';
import { windowShare } from './loads/windows.ts';
import type { ReadScenario } from './scenario/read.ts';
import type { ArraySpec, Scenario } from './scenario/schema.ts';
import type { FileTexts } from './series/types.ts';
import { prepareSky } from './sky/prepare.ts';
import type { SkyYear } from './sky/types.ts';
import type { SunYear } from './sun/types.ts';
import { sunYear } from './sun/year.ts';

/** What comes and goes by the clock. */
export interface Timetables {
  /** 1 for each step in which the generator may not run, else 0; null if it may always. */
  readonly generator_barred: Uint8Array | null;
  /** Uniform draws, one a step, that decide whether a start fails; null if none does. */
  readonly start_draw: Float64Array | null;
  /** Share of each step in which the socket is there; null without one. */
  readonly shore_share: Float64Array | null;
  /** Share of each step in which the engine runs that charges through the DC-DC charger; null without one. */
  readonly engine_share: Float64Array | null;
}

/** All that a year of hours needs and that does not depend on the sizes of the plant. */
export interface PreparedYear {
  readonly scenario: Scenario;
  readonly clock: Clock;
  readonly sun: SunYear;
  readonly sky: SkyYear;
  /** Same order as `scenario.arrays`. */
  readonly arrays: readonly ArrayYear[];
  readonly loads: LoadYear;
  /** Temperature of the bank per step, °C. */
  readonly bank_temperature_C: Float64Array;
  readonly timetables: Timetables;
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Clock, sun, sky, arrays per kWp and loads of a scenario: the data's way through the house, top to bottom.
 *
 * @param read a scenario as `readScenario` gave it
 * @param file its name, for messages
 * @param texts text of every file that `filesNamed` lists
 * @throws InputError if a series can't be used
 */
export function prepareYear(read: ReadScenario, file: string, texts: FileTexts): PreparedYear {
  const year = newYearShelf(file, texts)(read.scenario);
  return { ...year, assumptions: distinct([...read.assumptions, ...year.assumptions]) };
}

/** A year is about 70 kB a column: this many of each stage stay below some 200 MB. */
const KEPT = { site: 4, sky: 128, array: 256, loads: 64 } as const;

/**
 * The same for many scenarios that differ a little, each stage computed once for what it depends on: sun by site and
 * year, sky by weather, arrays by roof, loads by load list. Sizes and parts change none of them.
 *
 * @returns a function from a scenario to its year; its `assumptions` are those of the models alone
 */
export function newYearShelf(file: string, texts: FileTexts): (scenario: Scenario) => PreparedYear {
  const sites = memo<{ clock: Clock; sun: SunYear }>(KEPT.site);
  const skies = memo<SkyYear>(KEPT.sky);
  const roofs = memo<ArrayYear>(KEPT.array);
  const loadYears = memo<LoadYear>(KEPT.loads);
  const tables = memo<Timetables>(KEPT.loads);
  const rooms = memo<Float64Array>(KEPT.loads);
  // Writing out what does not change costs a tenth of playing the year.
  const json = ofObject((section: object) => JSON.stringify(section));
  const roofJson = ofObject((spec: ArraySpec) => JSON.stringify({ ...spec, ...SIZES_OF_ARRAY }));
  const roomOf = (steps: number, temperature_C: number): Float64Array =>
    rooms(`${steps} ${temperature_C}`, () => new Float64Array(steps).fill(temperature_C));
  return (scenario) => {
    const { site, weather, run, bank, generator, shore, engine_charging } = scenario;
    const siteKey = `${json(site)} ${run.year} ${run.step_min} `;
    const { clock, sun } = sites(siteKey, () => {
      const clock = buildClock(run.year, site.time_zone, run.step_min);
      return { clock, sun: sunYear(clock, site) };
    });
    const skyKey = siteKey + json(weather);
    const sky = skies(skyKey, () => prepareSky(weather, site, clock, sun, texts, file));
    const arrays = scenario.arrays.map((spec) =>
      roofs(skyKey + roofJson(spec), () => prepareArray(spec, site, clock, sun, sky)),
    );
    // Only loads that follow the air are others under another sky.
    const loadsKey = followsAir(scenario.loads) ? skyKey : siteKey;
    const loads = loadYears(loadsKey + json(scenario.loads), () =>
      prepareLoads(scenario.loads, clock, texts, sky.air_temperature_C),
    );
    return {
      scenario,
      clock,
      sun,
      sky,
      arrays,
      loads,
      bank_temperature_C:
        bank.temperature.kind === 'outdoors'
          ? sky.air_temperature_C
          : roomOf(clock.steps, bank.temperature.temperature_C),
      timetables: tables(siteKey + JSON.stringify([generatorClock(generator), shore, engine_charging]), () =>
        timetablesOf(scenario, clock),
      ),
      notices: [...sky.notices, ...loads.notices],
      assumptions: distinct([
        ...sky.assumptions,
        ...arrays.flatMap((array) => array.assumptions),
        ...loads.assumptions,
        ...MODEL_ASSUMPTIONS,
        ...(bank.temperature.kind === 'outdoors' ? [OUTDOOR_BANK] : []),
      ]),
    };
  };
}

/** What an array's year per kWp does not depend on. */
const SIZES_OF_ARRAY = {
  size_kWp: 0,
  panels: 0,
  panel_kWp: 0,
  part: '',
  price: 0,
  life_years: 0,
  ageing_share_per_year: 0,
  tracker: null,
} as const;

/** What of a generator is a matter of the clock, not of sizes. */
const generatorClock = (generator: Scenario['generator']): unknown => [
  generator?.quiet_windows,
  generator?.start_failure?.seed,
];

const EVERY_DAY = {
  days: ['mon', 'tue', 'wed', 'thu', 'fri', 'sat', 'sun'] as const,
  months: [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12],
};

function timetablesOf({ generator, shore, engine_charging }: Scenario, clock: Clock): Timetables {
  const wall = wallClock(clock);
  const quiet = generator?.quiet_windows ?? [];
  const failing = generator?.start_failure;
  return {
    generator_barred:
      quiet.length === 0
        ? null
        : Uint8Array.from(windowShare({ windows: quiet, ...EVERY_DAY }, wall), (share) =>
            share > 0 ? 1 : 0,
          ),
    start_draw: failing === undefined ? null : uniformDraws(failing.seed, clock.steps),
    shore_share: shore === undefined ? null : windowShare(shore, wall),
    engine_share: engine_charging === undefined ? null : windowShare(engine_charging, wall),
  };
}

const model = (path: string, why: string): Assumption => ({ path, value: null, why, kind: 'model' });

/** What the hour loop leaves out or decides, whatever the scenario. */
const MODEL_ASSUMPTIONS: readonly Assumption[] = [
  model('model.hours', 'powers are means over a step: peaks within it, and motors starting, are not played'),
  model(
    'model.bank',
    'voltage stays at the nominal value; efficiency does not vary with current; capacity does not fall with cold or age',
  ),
  model(
    'model.inverter',
    'the inverter is on all year and draws its standing loss whenever the DC side can supply it',
  ),
  model(
    'model.dispatch',
    'loads are served from the sun first, then from the bank; lower tiers are shed only when power is short',
  ),
];

const OUTDOOR_BANK = model(
  'model.bank_temperature',
  'a bank outdoors has the temperature of the air, without heat of its own',
);

/** Several arrays state the same model once. */
function distinct(assumptions: readonly Assumption[]): readonly Assumption[] {
  const byText = new Map(assumptions.map((a) => [`${a.path}|${a.value}|${a.why}`, a]));
  return [...byText.values()];
}

/**
 * A stretch of a prepared year as a year of its own: whole local days, sharing the columns.
 *
 * @param firstDay ordinal of the first local day, 0 to days - 1
 * @param days how many; first and last must lie within the year
 * @throws RangeError if they don't
 */
export function daysOfYear(year: PreparedYear, firstDay: number, days: number): PreparedYear {
  const { clock } = year;
  if (!Number.isInteger(firstDay) || firstDay < 0 || days < 1 || firstDay + days > clock.days) {
    throw new RangeError(`daysOfYear: ${days} days from day ${firstDay} do not fit a year of ${clock.days}`);
  }
  const from = clock.day_start[firstDay]!;
  const to = clock.day_start[firstDay + days]!;
  const cut = <T extends { subarray(from: number, to: number): T }>(column: T): T =>
    column.subarray(from, to);
  return {
    ...year,
    clock: {
      ...clock,
      steps: to - from,
      days,
      start_ms: cut(clock.start_ms),
      offset_min: cut(clock.offset_min),
      local_minute: cut(clock.local_minute),
      month: cut(clock.month),
      weekday: cut(clock.weekday),
      day: cut(clock.day).map((day) => day - firstDay),
      day_start: clock.day_start.subarray(firstDay, firstDay + days + 1).map((step) => step - from),
    },
    sun: {
      up_share: cut(year.sun.up_share),
      altitude_deg: cut(year.sun.altitude_deg),
      azimuth_deg: cut(year.sun.azimuth_deg),
      extraterrestrial_normal_W_m2: cut(year.sun.extraterrestrial_normal_W_m2),
      extraterrestrial_horizontal_W_m2: cut(year.sun.extraterrestrial_horizontal_W_m2),
      air_mass: cut(year.sun.air_mass),
    },
    sky: {
      ...year.sky,
      ghi_W_m2: cut(year.sky.ghi_W_m2),
      dni_W_m2: cut(year.sky.dni_W_m2),
      dhi_W_m2: cut(year.sky.dhi_W_m2),
      air_temperature_C: cut(year.sky.air_temperature_C),
      wind_m_s: cut(year.sky.wind_m_s),
    },
    arrays: year.arrays.map((array) => ({
      ...array,
      plane_W_m2: cut(array.plane_W_m2),
      cell_temperature_C: cut(array.cell_temperature_C),
      dc_kW_per_kWp: cut(array.dc_kW_per_kWp),
    })),
    loads: {
      ...year.loads,
      tier_kW: year.loads.tier_kW.map(cut),
      total_kW: cut(year.loads.total_kW),
    },
    bank_temperature_C: cut(year.bank_temperature_C),
    timetables: {
      generator_barred: year.timetables.generator_barred && cut(year.timetables.generator_barred),
      start_draw: year.timetables.start_draw && cut(year.timetables.start_draw),
      shore_share: year.timetables.shore_share && cut(year.timetables.shore_share),
      engine_share: year.timetables.engine_share && cut(year.timetables.engine_share),
    },
  };
}

/** A year made harder than it was drawn: what a study asks to see how firm its answer stands. */
export interface Harder {
  /** Factor on every load. */
  readonly load: number;
  /** Factor on what the arrays offer in the dark season. */
  readonly dark_season: number;
}

export const AS_DRAWN: Harder = { load: 1, dark_season: 1 };

/** The same year with every load multiplied. */
export const withLoadTimes = (year: PreparedYear, load: number): PreparedYear =>
  newHardener({ load, dark_season: 1 })(year);

/**
 * Makes years harder. The dark season is the three consecutive calendar months (December and January are neighbours)
 * with the least global irradiation. Columns already made are used again for as long as the function is held.
 */
export function newHardener({ load, dark_season }: Harder): (year: PreparedYear) => PreparedYear {
  const made = new WeakMap<Float64Array, Float64Array>();
  const once = (column: Float64Array, make: () => Float64Array): Float64Array => {
    const known = made.get(column) ?? make();
    made.set(column, known);
    return known;
  };
  const heavier = (kW: Float64Array): Float64Array =>
    load === 1 ? kW : once(kW, () => kW.map((value) => value * load));
  return (year) => {
    const { month } = year.clock;
    const factor = (): Float64Array =>
      once(year.sky.ghi_W_m2, () => {
        const isDark = darkSeason(year);
        return Float64Array.from(month, (m) => (isDark(m) ? dark_season : 1));
      });
    const darker = (kW: Float64Array): Float64Array =>
      dark_season === 1
        ? kW
        : once(kW, () => {
            const factors = factor();
            return kW.map((value, i) => value * factors[i]!);
          });
    return {
      ...year,
      arrays: year.arrays.map((array) => ({ ...array, dc_kW_per_kWp: darker(array.dc_kW_per_kWp) })),
      loads: {
        ...year.loads,
        tier_kW: year.loads.tier_kW.map(heavier),
        total_kW: heavier(year.loads.total_kW),
      },
    };
  };
}

/** Tells whether a calendar month, 1 to 12, belongs to the dark season of a year. */
function darkSeason({ clock, sky }: PreparedYear): (month: number) => boolean {
  const byMonth = new Float64Array(12);
  for (let i = 0; i < clock.steps; i++) byMonth[clock.month[i]! - 1]! += sky.ghi_W_m2[i]!;
  const quarter = (m: number): number => byMonth[m]! + byMonth[(m + 1) % 12]! + byMonth[(m + 2) % 12]!;
  let darkest = 0;
  for (let m = 1; m < 12; m++) if (quarter(m) < quarter(darkest)) darkest = m;
  return (month) => (month - 1 - darkest + 12) % 12 < 3;
}
