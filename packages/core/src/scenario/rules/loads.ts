import type { Issue } from '../../basis/errors.ts';
import { ofObject } from '../../basis/memo.ts';
import { rounded } from '../../basis/rounding.ts';
import { WEEK } from '../../clock/wall.ts';
import { DAY_min, overlap_min, parseWindow } from '../../clock/window.ts';
import type { FlexibleLoad, InverterSpec, Load, PlainLoad, Scenario } from '../schema/schema.ts';
import { broken, emptyWindow, isEmptyWindow } from './rule.ts';
import { twice, yearless } from './site.ts';

type Plain = PlainLoad;
type Windowed = Pick<Extract<Load, { windows: unknown }>, 'windows' | 'days'>;

const isPlain = (load: Load): load is Plain => load.kind !== 'flexible' && load.kind !== 'surplus';

/** Names, days and windows of loads, where they hang, and which are shed. */
export function* loadRules({ loads, inverter, shedding, bank }: Scenario): Generator<Issue> {
  yield* twice(loads, 'loads');
  for (const [i, load] of loads.entries()) {
    const at = `loads[${i}]`;
    if ('windows' in load) yield* windows(load, at, 'join them, or list a second appliance');
    if (load.kind === 'flexible') yield* waiting(load, at);
    if (load.kind === 'series') yield* yearless(load.time, at);
    if (load.kind === 'appliance' && load.start_W !== undefined && load.start_W < load.power_W)
      yield broken(`${at}.start_W`)`starts with ${load.start_W} W, which is less than its power_W
        ${load.power_W} | give the watts of one of it at the moment it starts`;
    if (load.kind === 'daily' && Array.isArray(load.shape) && load.shape.every((weight) => weight === 0))
      if (load.energy_kWh_day > 0)
        yield broken(`${at}.shape`, 'empty-shape')`all 24 weights are zero, so the energy has no hour to go to
          | give at least one hour a weight above zero`;
    // There is no seed by default: the same file must give the same year.
    if (
      'daily_variation_share' in load &&
      load.daily_variation_share !== 0 &&
      load.variation_seed === undefined
    )
      yield broken(`${at}.daily_variation_share`, 'missing-seed')`days vary by ${load.daily_variation_share},
        but no seed says how they are drawn | add variation_seed with any whole number; loads with the same
        seed vary together`;
    if (isPlain(load)) yield* load.bus === 'dc' ? onDc(load, at) : onAc(load, at, inverter);
  }
  yield* shed(shedding, loads.filter(isPlain), bank.floor_soc);
}

/** No window may be empty, and no minute may lie in two windows: it would be counted twice. */
export function* windows(load: Windowed, path: string, fix = 'join them'): Generator<Issue> {
  const spans = spansOf(load.windows);
  for (const [i, window] of load.windows.entries()) {
    const at = `${path}.windows[${i}]`;
    const other = spans.findIndex((span, k) => k < i && doOverlap(span, spans[i]!, hasDayAfterDay(load)));
    if (isEmptyWindow(window)) yield emptyWindow(at, window);
    else if (other >= 0) yield broken(at, 'overlap')`"${window}" overlaps "${load.windows[other]}" | ${fix}`;
  }
}

type Span = ReturnType<typeof parseWindow>;

/** A study asks for them with each design. */
const spansOf = ofObject((windows: readonly string[]): readonly Span[] => windows.map(parseWindow));

/** On the same day, or the end of one past midnight with the other on the next day. */
function doOverlap(a: Span, b: Span, dayAfterDay: boolean): boolean {
  const shifts = dayAfterDay ? [-DAY_min, 0, DAY_min] : [0];
  return shifts.some((d) => overlap_min(a.start_min, a.end_min, b.start_min + d, b.end_min + d) > 0);
}

const hasDayAfterDay = ({ days }: Windowed): boolean =>
  WEEK.some((day, i) => days.includes(day) && days.includes(WEEK[(i + 1) % 7]!));

function* waiting({ window, energy_kWh, max_power_W }: FlexibleLoad, at: string): Generator<Issue> {
  const { start_min, end_min } = parseWindow(window);
  if (isEmptyWindow(window)) return yield emptyWindow(`${at}.window`, window);
  const most_kWh = (max_power_W / 1000) * ((end_min - start_min) / 60);
  if (energy_kWh > most_kWh * (1 + 1e-9))
    yield broken(`${at}.energy_kWh`)`${energy_kWh} kWh don't go through ${max_power_W} W in the window
      ${window}: at most ${rounded(most_kWh, 4)} kWh do | ask for less, or widen the window`;
}

function* onDc({ leg, voltage_V }: Plain, at: string): Generator<Issue> {
  if (leg !== undefined)
    yield broken(`${at}.leg`)`a load on the DC side has no leg | leave leg out, or take it off the DC side`;
  if (voltage_V !== undefined)
    yield broken(`${at}.voltage_V`)`voltage_V is held against what the inverter gives, and a load on the DC
      side hangs before it | leave voltage_V out, or take it off the DC side`;
}

function* onAc({ leg, voltage_V }: Plain, at: string, inverter: InverterSpec): Generator<Issue> {
  const { legs, output_voltage_V: volts } = inverter;
  if (leg !== undefined && leg > legs)
    yield broken(
      `${at}.leg`,
    )`leg ${leg}, but the inverter has ${legs === 1 ? 'one leg' : `${legs} legs`} | set
      inverter.legs, or name a leg that is there`;
  if (voltage_V === undefined) return;
  const path = `${at}.voltage_V`;
  if (volts === undefined)
    return yield broken(path)`needs ${voltage_V} V, but the file does not say what the inverter gives | add
      inverter.output_voltage_V, from leg to neutral`;
  if (isNear(voltage_V, volts)) return;
  const needs = `needs ${voltage_V} V; the inverter gives ${volts} V`;
  if (legs === 1)
    return yield broken(path)`${needs}: it can't be served | stack units for it (inverter.units and
      inverter.legs), or leave the load out`;
  const between_V = (legs === 2 ? 2 : Math.sqrt(3)) * volts;
  if (!isNear(voltage_V, between_V))
    yield broken(path)`${needs}, and ${Math.round(between_V)} V between legs: it can't be served | check both
      voltages`;
  else if (leg !== undefined)
    yield broken(`${at}.leg`)`${voltage_V} V stands between two legs, not on leg ${leg} alone | leave leg out:
      it is shared by the legs`;
}

/** Networks and data sheets differ by this much from each other: 115 and 120 V, 230 and 240 V. */
const isNear = (a: number, b: number): boolean => Math.abs(a - b) <= 0.06 * b;

/**
 * A tier must be shed before it can come back, and no tier before one that matters less: tiers are served in order, and
 * the report tells them apart by that order.
 */
function* shed(rules: Scenario['shedding'], loads: readonly Plain[], floor: number): Generator<Issue> {
  for (const [i, { tier, shed_soc, restore_soc }] of rules.entries()) {
    const at = `shedding[${i}]`;
    if (rules.findIndex((other) => other.tier === tier) < i)
      yield broken(`${at}.tier`)`tier ${tier} has a rule already | give each tier one rule`;
    if (!loads.some((load) => load.tier === tier))
      yield broken(`${at}.tier`)`no load is of tier ${tier} | give the tier of the loads that shall be shed`;
    if (shed_soc < floor)
      yield broken(`${at}.shed_soc`)`${shed_soc} is below the bank's floor of ${floor}: the bank never gets
        there, so tier ${tier} would never be shed | shed at ${floor} or more`;
    if (restore_soc <= shed_soc)
      yield broken(`${at}.restore_soc`)`comes back at ${restore_soc}, which is not above shed_soc ${shed_soc}
        | leave a gap, so that the loads do not flutter`;
    const ruleOf = (other: number) => rules.find((r) => r.tier === other);
    const staysOn = loads.find((load) => {
      const rule = ruleOf(load.tier);
      return load.tier > tier && !(rule && rule.shed_soc >= shed_soc && rule.restore_soc >= restore_soc);
    });
    if (staysOn === undefined) continue;
    const less = `tier ${staysOn.tier}, which matters less`;
    const how = ruleOf(staysOn.tier)
      ? `before ${less}, or come back before it does`
      : `while ${less}, is not`;
    yield broken(`${at}.shed_soc`)`tier ${tier} would be shed ${how} | shed tier ${staysOn.tier} at the same
      soc or a higher one`;
  }
}
