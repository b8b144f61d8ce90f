import { type Assumption, modelled } from '../../basis/notices.ts';
import type { Scenario } from '../schema/schema.ts';

/** What the limits of an all-in-one rest on: where its arrays hang, and what charges beside it. */
export function allInOneAssumptions(scenario: Scenario): readonly Assumption[] {
  const { inverter, arrays, charger, alternator } = scenario;
  const { units, max_total_charge_A, max_total_tracker_kW, max_total_tracker_A } = inverter;
  const built = arrays.filter(({ tracker }) => tracker.built_in === true);
  const own = arrays.filter(({ tracker, coupling }) => tracker.built_in !== true && coupling !== 'ac');
  const found: Assumption[] = [];
  const overTrackers = max_total_tracker_kW ?? max_total_tracker_A;
  if (built.length > 0 && units > 1 && overTrackers !== undefined)
    found.push(modelled('inverter.units', EVENLY, units));
  const hasCharger = charger?.built_in === true;
  const beside = own.length > 0 || alternator !== undefined || (charger !== undefined && !hasCharger);
  if (max_total_charge_A !== undefined && (built.length > 0 || hasCharger) && beside)
    found.push(modelled('inverter.max_total_charge_A', BESIDE, max_total_charge_A));
  return found;
}

const EVENLY =
  'the arrays hang evenly on the units: limits over the trackers of a unit are taken together, so that one unit with more sun than another is not held back on its own';
const BESIDE =
  'what charges the bank beside the inverter (trackers, charger or alternator in cases of their own) comes on top of this limit, at the most it could put out';
