import type { Project } from '../scenario/schema/schema.ts';
import type { PreparedYear } from '../year.ts';

/** What stands at the head of a report of any kind: its format, the site, and how the year was made. */
export interface ReportHead {
  readonly longnight: { readonly format: 1 };
  /** What the scenario says of title, client, author, reference and revision; null where it says nothing. */
  readonly project: { readonly [Key in keyof Project]-?: string | null };
  readonly site: {
    /** As in the scenario. */ readonly name: string;
    /** North is positive. */ readonly latitude_deg: number;
    /** East is positive. */ readonly longitude_deg: number;
    /** IANA name; days and months are those of its wall clock. */ readonly time_zone: string;
  };
  readonly run: {
    /** Local calendar year that was played. */ readonly year: number;
    /** Steps of the year. */ readonly steps: number;
    /** Length of a step. */ readonly step_min: number;
    /** Where the weather comes from: clear-sky, series, monthly_means, tmy3, epw, nsrdb or nasa_power. */ readonly weather:
      | 'clear-sky'
      | 'series'
      | 'monthly_means'
      | 'tmy3'
      | 'epw'
      | 'nsrdb'
      | 'nasa_power';
    /** Seed of the drawn weather; null where nothing is drawn. */
    readonly seed: number | null;
  };
}

export function reportHead({ scenario, clock }: PreparedYear): ReportHead {
  return {
    longnight: { format: 1 },
    project: {
      title: scenario.project?.title ?? null,
      client: scenario.project?.client ?? null,
      author: scenario.project?.author ?? null,
      reference: scenario.project?.reference ?? null,
      revision: scenario.project?.revision ?? null,
    },
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
      seed: scenario.weather.kind === 'monthly_means' ? scenario.weather.seed : null,
    },
  };
}
