import type { PreparedYear } from '../year.ts';

/** What stands at the head of a report of any kind: its format, the site, and how the year was made. */
export interface ReportHead {
  readonly longnight: { readonly format: 1 };
  readonly site: {
    readonly name: string;
    readonly latitude_deg: number;
    readonly longitude_deg: number;
    readonly time_zone: string;
  };
  readonly run: {
    readonly year: number;
    readonly steps: number;
    readonly step_min: number;
    readonly weather: 'clear-sky' | 'series' | 'normals' | 'tmy3' | 'epw';
    /** Seed of the drawn weather; null where nothing is drawn. */
    readonly seed: number | null;
  };
}

export function reportHead({ scenario, clock }: PreparedYear): ReportHead {
  return {
    longnight: { format: 1 },
    site: {
      name: scenario.site.name,
      latitude_deg: scenario.site.latitude_deg,
      longitude_deg: scenario.site.longitude_deg,
      time_zone: scenario.site.time_zone,
    },
    run: {
      year: clock.year,
      steps: clock.steps,
      step_min: clock.step_min,
      weather: scenario.weather.kind,
      seed: scenario.weather.kind === 'normals' ? scenario.weather.seed : null,
    },
  };
}
