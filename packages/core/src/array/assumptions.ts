import { type Assumption, modelled as model } from '../basis/notices.ts';
import type { ArraySpec, Site } from '../scenario/schema/schema.ts';
import { HEAT_LOSS } from './cell.ts';

/** What an array's year takes for granted, in the words of the report. */
export function arrayAssumptions(spec: ArraySpec, site: Site): readonly Assumption[] {
  return [
    (spec.horizon ?? site.horizon) === undefined
      ? model(
          'model.array.horizon',
          `no horizon line is given: nothing around ${site.name} stands above the horizontal`,
          null,
          'verdict_most',
        )
      : model(
          'model.array.horizon',
          'the horizon line hides the sun for a whole step if it stands below the line at the middle of it, and the ring around the sun with it; the even sky counts by the share that the plane still sees, a bright horizon by what stands out of its lowest 6.5 degrees (Perez et al. 1987, recalled); what hides the sky is black, and the weather is taken to be that of an open horizon',
        ),
    model(
      `model.array.plane.${spec.sky_model}`,
      `nothing within the array shades it; diffuse light after ${DIFFUSE[spec.sky_model]}, ground light even in all directions`,
    ),
    model(
      'model.array.glass',
      'slanting light is lost at the glass: beam and the ring around the sun at their angle (Souka & Safwat 1966), sky and ground at the angle of equal loss (Brandemuehl & Beckman 1980)',
    ),
    cells(spec),
    spec.low_light_loss_share > 0
      ? model(
          'model.array.low_light',
          'efficiency falls with the logarithm of the light, through the figure at 200 W/m²; common practice, no source for the form',
        )
      : model('model.array.low_light', 'no loss of efficiency in weak light: power is proportional to light'),
    model(
      'model.array.power',
      'power is linear in cell temperature (Evans 1981); no colour of light; the tracker always finds the best point',
    ),
  ];
}

const DIFFUSE = { perez: 'Perez et al. 1990', hay_davies: 'Hay & Davies 1980' } as const;

function cells(spec: ArraySpec): Assumption {
  if (spec.cell_model?.kind === 'noct')
    return model(
      'model.array.cell.noct',
      'cells are warmer than the air in proportion to the light, as in the test of the data sheet (Ross 1976, IEC 61215) whatever the wind, and follow sun and air at once',
    );
  const { still_W_m2_K, perWind_W_s_m3_K } = HEAT_LOSS[spec.mounting];
  const source =
    spec.mounting === 'open_rack' ? 'Faiman 2008' : 'form of Faiman 2008, values common practice, no source';
  return model(
    `model.array.cell.${spec.mounting}`,
    `cells give off ${still_W_m2_K} W/(m² K) in still air and ${perWind_W_s_m3_K} more per m/s of wind (${source}), and follow sun and air at once`,
  );
}
