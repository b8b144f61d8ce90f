import type { PreparedYear } from '../year.ts';
import type { Report } from './report.ts';

/** What stands at the head of a report of any kind: its format, the site, and how the year was made. */
export function reportHead({
  scenario,
  clock,
}: PreparedYear): { readonly longnight: { readonly format: 1 } } & Pick<Report, 'site' | 'run'> {
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
