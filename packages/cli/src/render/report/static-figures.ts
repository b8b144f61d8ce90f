import type { StaticLimits } from '@longnight/core';

/** The static figures in the order they are shown, with the words for each. */
export const staticFigures = (limits: StaticLimits) =>
  [
    { title: 'AC output, continuous', figure: limits.ac_output, none: 'no AC output' },
    { title: 'AC output, surge', figure: limits.surge, none: 'no AC output' },
    { title: 'Solar charging', figure: limits.solar_charging, none: 'no array' },
    {
      title: 'AC charging',
      figure: limits.ac_charging,
      none: 'not possible: no charger with an AC source behind it',
    },
  ] as const;
