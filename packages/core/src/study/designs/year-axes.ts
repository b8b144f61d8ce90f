import { expectArgument, expectArguments } from '../../basis/arguments.ts';
import { refusal } from '../../basis/errors.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import { parsePath } from '../../scenario/text/path.ts';
import type { PossibleYear } from '../years/possible-years.ts';
import type { Axis } from './axes.ts';

/**
 * Refuses axes that say themselves which years are played: years that were found for the scenario as it stands are
 * not those of such a design.
 *
 * @throws InputError for an axis under `weather` of a file, for `weather.kind` and `weather.seed`, and for `run.year` of
 *   a file
 */
export function refuseYearAxes(
  axes: readonly Axis[],
  scenario: Scenario,
  years: readonly PossibleYear[],
): void {
  expectArguments('refuseYearAxes', { axes, scenario });
  expectArgument('refuseYearAxes', 'years', years, 'list');
  const { weather } = scenario;
  if (years.length === 0) return;
  const [seed, ofFile] = [/^weather\.(seed|kind)$/, /^(weather\b|run\.year$)/];
  const axis = axes.find(({ path }) => ('file' in weather ? ofFile : seed).test(path));
  if (axis === undefined) return;
  throw refusal(
    'axis',
    `--vary ${axis.path}`,
    `says itself which years are played, and ${years.length} years are asked for`,
    `leave out this key, or the options that ask for years: --seeds and --every-year`,
    `keys other than ${parsePath(axis.path).join('.')}`,
  );
}
