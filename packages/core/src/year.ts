import type { ArrayYear } from './array/types.ts';
import type { Assumption, Notice } from './basis/notices.ts';
import type { Clock } from './clock/clock.ts';
import type { LoadYear } from './loads/types.ts';
import type { Scenario } from './scenario/schema.ts';
import type { SkyYear } from './sky/types.ts';
import type { SunYear } from './sun/types.ts';

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
  readonly notices: readonly Notice[];
  readonly assumptions: readonly Assumption[];
}
