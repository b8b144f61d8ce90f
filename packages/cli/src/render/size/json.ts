import { digitsOf, howSure, type Tried, yearsToTell } from '@longnight/core/study';
import { headJson, jsonText, yearJson } from '../document/json.ts';
import { cautionsOfSize, countsYears, type SizeShown } from './answers.ts';

/** size.json: question and answer as plain data. Designs are numbered from 1, as in size.csv. */
export function sizeJson(shown: SizeShown): string {
  const { question, answer, beside, choice, harder, years, bill } = shown;
  const { axes, ask, possible } = question;
  const { scenario } = question.files.read;
  const values = (index: number): Record<string, number | string> =>
    Object.fromEntries(digitsOf(axes, index).map((digit, k) => [axes[k]!.path, axes[k]!.values[digit]!]));
  const design = ({ index, least, bounds, capital, unmet_kWh, run_hours, hardest_year, ...held }: Tried) => ({
    design: index + 1,
    values: values(index),
    ...held,
    hardest_year: yearJson(possible.years[hardest_year]),
    least,
    'money.capital': capital,
    'unmet.energy_kWh': unmet_kWh,
    'generator.run_hours': run_hours,
    requirements: ask.holds.map((hold, k) => ({ requirement: hold.text, figure: bounds[k]! })),
  });
  const sureOf = (held: number) => ({
    held_share: howSure(held, years.length),
    years_to_tell: yearsToTell(held, years.length, ask.years_to_hold),
  });
  const whole = (index: number | null) => {
    const known = index === null ? undefined : answer.tried(index);
    if (known === undefined) return null;
    return {
      ...design(known),
      ...(countsYears(question) && sureOf(known.years_held)),
      years: years.map((figures, k) => ({ ...yearJson(possible.years[k]), figures })),
      bill: bill === null ? null : bill.lines,
    };
  };
  return jsonText('size.json', {
    ...headJson(scenario, possible.years.length > 0),
    currency: scenario.money?.currency ?? null,
    asked: {
      vary: axes,
      hold: ask.holds.map((hold) => hold.text),
      least: ask.least,
      years: possible.years.map(yearJson),
      years_to_hold: ask.years_to_hold,
      age_years: question.age_years,
    },
    left_out: possible.left_out,
    assumptions: possible.assumptions,
    designs: shown.designs,
    played: answer.played,
    contradictory: answer.contradictory,
    dangerous: answer.dangerous,
    holding: answer.holding,
    unranked: answer.unranked,
    best: whole(answer.best),
    nearest: answer.best === null ? whole(answer.nearest) : null,
    beside: beside.map(({ index, axis, value, tried }) => ({
      axis: axes[axis]!.path,
      value,
      ...(tried === null ? { design: index + 1, holds: null } : design(tried)),
    })),
    choice: choice.map(({ tried, weakest }) => ({ ...design(tried), weakest })),
    front: answer.front.map((index) => design(answer.tried(index)!)),
    cautions: cautionsOfSize(shown),
    harder: harder.map(({ name, harder: how, often, same, cheapest }) => ({
      name,
      ...how,
      often,
      same: design(same),
      cheapest: cheapest === null ? null : design(cheapest),
    })),
  });
}
