import { tidy } from '../../../basis/rounding.ts';
import { minChargeTemperature_C } from '../../../scenario/rules/chemistry.ts';
import { type Change, type Changeable, change } from './change.ts';

/** Lowest floors that are tried; for lead-acid common practice, no source: half of it is not drawn. */
const LEAST_FLOOR = { lfp: 0, lead_acid: 0.5 } as const;
const FLOOR_STEP = 0.05;

/** The change that adds a module. */
export const BANK_MORE = 'bank more';

/** What can be changed about the bank. */
export function changesOfBank({ scenario, coldest_bank_C }: Changeable): readonly Change[] {
  const { bank } = scenario;
  const changes: Change[] = [
    change({
      id: BANK_MORE,
      what: { id: 'one_more_module' },
      values: [{ path: 'bank.modules_parallel', value: bank.modules_parallel + 1 }],
      repeats: true,
    }),
  ];
  const floor = tidy(bank.floor_soc - FLOOR_STEP);
  if (floor >= LEAST_FLOOR[bank.chemistry])
    changes.push(
      change({
        id: 'bank floor',
        what: { id: 'lower_floor' },
        values: [{ path: 'bank.floor_soc', value: floor }],
        kind: 'setting',
        caution: 'deep_discharge',
      }),
    );
  // Elsewhere the cold never stops a charge, and warmth is not played otherwise: nothing could come of it.
  const warm_C = minChargeTemperature_C(bank);
  if (coldest_bank_C < warm_C)
    changes.push(
      change({
        id: 'bank heated',
        what: { id: 'bank_heated', temperature_C: warm_C },
        values: [
          {
            path: 'bank.temperature',
            value: { kind: 'indoors', temperature_C: warm_C },
          },
        ],
        kind: 'setting',
        caution: 'heat',
      }),
    );
  return changes;
}

/** Invented: how far above the floor a tier is shed, and how far above that it comes back. */
const SHED_ABOVE_FLOOR = 0.2;
const DEAD_BAND = 0.2;

/** What less can be asked of the plant. */
export function changesOfLoads({ scenario }: Changeable): readonly Change[] {
  const { bank, loads, shedding } = scenario;
  const changes: Change[] = [
    change({
      id: 'loads smaller',
      what: { id: 'loads_a_tenth_smaller' },
      values: loads.map(({ scale }, k) => ({ path: `loads[${k}].scale`, value: tidy(scale * 0.9) })),
      kind: 'loads',
    }),
  ];
  const waits = loads.flatMap((load, k) =>
    load.kind === 'flexible' && load.min_soc > bank.floor_soc ? [`loads[${k}].min_soc`] : [],
  );
  if (waits.length > 0)
    changes.push(
      change({
        id: 'loads wait',
        what: { id: 'loads_wait_less' },
        values: waits.map((path) => ({ path, value: 0 })),
        kind: 'setting',
        caution: 'drained_by_waiting',
      }),
    );
  const tiers = [...new Set(loads.flatMap((load) => ('tier' in load ? [load.tier] : [])))].sort(
    (a, b) => a - b,
  );
  const lowest = tiers.at(-1)!;
  const shed_soc = tidy(bank.floor_soc + SHED_ABOVE_FLOOR);
  const restore_soc = tidy(shed_soc + DEAD_BAND);
  if (tiers.length > 1 && restore_soc <= 1 && !shedding.some((rule) => rule.tier === lowest))
    changes.push(
      change({
        id: 'loads shed',
        what: { id: 'tier_shed', tier: lowest },
        values: [{ path: 'shedding', value: [...shedding, { tier: lowest, shed_soc, restore_soc }] }],
        kind: 'loads',
        caution: 'shed_is_unmet',
      }),
    );
  return changes;
}
