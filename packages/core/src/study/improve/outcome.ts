import { mean } from 'simple-statistics';
import { type Danger, dangersOf, worstDangers } from '../../findings/static/dangers.ts';
import { loadFindings } from '../../findings/unmet.ts';
import { playYear } from '../../hours/play.ts';
import type { Ledger } from '../../ledger/ledger.ts';
import type { Scenario } from '../../scenario/schema/schema.ts';
import type { FileTexts } from '../../series/types.ts';
import { newYearPreparer } from '../../year.ts';
import { type DesignFigureName, type Figures, newFigureReader, newYearPlayer } from '../designs/play.ts';
import { type Judge, type Judged, judgeYears } from '../size/judge.ts';
import { inYear } from '../years/possible-years.ts';

/** What the years played say about a change; of several the mean, unless said. */
export interface Outcome extends Judged {
  readonly unmet_kWh: number;
  readonly unmet_hours: number;
  /** Unmet of all tiers but the one that matters least; null where there is one tier only. */
  readonly unmet_higher_tiers_kWh: number | null;
  /** Null without a generator. */
  readonly generator_run_h: number | null;
  readonly fuel_L: number | null;
  /** Of all years. */ readonly lowest_soc: number;
  /** Price of everything on the bill; null where a price is missing. */
  readonly capital: number | null;
  /** Coldest that the bank gets in any year, °C. */
  readonly coldest_bank_C: number;
  /** Of all years, each as far beyond its limit as it gets. */ readonly dangers: readonly Danger[];
}

/** One year of it. */
interface Played {
  readonly figures: Figures;
  readonly unmet_higher_tiers_kWh: number | null;
  readonly coldest_bank_C: number;
  readonly dangers: readonly Danger[];
}

/**
 * Plays scenarios one after another, each in every year that it is judged by; what they share is prepared once.
 *
 * @param texts text of every series file that the scenarios name
 */
export function newTrial(file: string, texts: FileTexts, judge: Judge): (scenario: Scenario) => Outcome {
  const play = newYearPlayer(newYearPreparer(file, texts), playYear);
  const figuresOf = newFigureReader();
  const years = judge.years.length === 0 ? [undefined] : judge.years;
  return (scenario) => {
    const played = years.map((year): Played => {
      const { ledger } = play(inYear(scenario, year));
      return {
        figures: figuresOf(ledger),
        unmet_higher_tiers_kWh: unmetHigherTiers_kWh(ledger),
        coldest_bank_C: ledger.year.bank_temperature_C.reduce((a, b) => Math.min(a, b)),
        dangers: dangersOf(ledger.year, ledger.plant),
      };
    });
    const figures = played.map((year) => year.figures);
    const meanFigure = (name: DesignFigureName): number | null => meanOf(figures.map((year) => year[name]));
    return {
      unmet_kWh: meanFigure('unmet.energy_kWh')!,
      unmet_hours: meanFigure('unmet.hours')!,
      unmet_higher_tiers_kWh: meanOf(played.map((year) => year.unmet_higher_tiers_kWh)),
      generator_run_h: meanFigure('generator.run_hours'),
      fuel_L: meanFigure('generator.fuel_L'),
      lowest_soc: Math.min(...figures.map((year) => year['bank.lowest_soc']!)),
      capital: figures[0]!['money.capital'],
      coldest_bank_C: Math.min(...played.map((year) => year.coldest_bank_C)),
      dangers: worstDangers(...(played.map((year) => year.dangers) as [readonly Danger[]])),
      ...judgeYears(figures, judge),
    };
  };
}

function unmetHigherTiers_kWh(ledger: Ledger): number | null {
  if (ledger.year.loads.tiers.length < 2) return null;
  const { by_tier } = loadFindings(ledger);
  return by_tier.slice(0, -1).reduce((sum, tier) => sum + tier.unmet_kWh, 0);
}

/** Null where any of them is: what one year lacks, all lack. */
const meanOf = (values: readonly (number | null)[]): number | null => {
  const known = values.filter((value) => value !== null);
  return known.length < values.length ? null : mean(known);
};
