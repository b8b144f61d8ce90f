import { askWeek, plantOf, prepareYear, type WeekAnswer, type WeekAsk } from '@longnight/core';
import { askEveryYear } from '@longnight/core/study';
import { madeFrom, openScenario } from '../../files/scenario.ts';
import { checkOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { noticeText } from '../../render/report/notice-words.ts';
import { hoursCsv } from '../../render/tables/hours-csv.ts';
import { hoursTable } from '../../render/tables/hours-table.ts';
import type { WeekShown } from '../../render/week/answers.ts';
import { weekDocument } from '../../render/week/document.ts';
import { weekJson } from '../../render/week/json.ts';
import { watched } from '../../workers/progress.ts';
import { type Given, tell } from '../tell.ts';

const NAMES = ['week.md', 'week.json', 'week.csv', 'week.html'];

interface WeekGiven extends Given {
  readonly days: number;
  readonly start?: string;
  readonly soc: number | 'played';
  readonly withoutGenerator?: true;
  readonly everyYear?: true;
}

/** `longnight week`: a stretch of days on its own. */
export async function week(file: string, given: WeekGiven, io: Io): Promise<void> {
  const ask: WeekAsk = {
    days: given.days,
    start: given.start ?? null,
    soc: given.soc === 'played' ? null : given.soc,
    generator: given.withoutGenerator !== true,
  };
  const opened = openScenario(io.cwd, file, given.set);
  checkOutputs(io.cwd, given.out, NAMES, opened.paths);

  const { read, texts } = opened;
  const years = given.everyYear
    ? watched(io, 'years', null, (at) => askEveryYear(read, file, texts, ask, at))
    : null;
  const plant = plantOf(opened.year.scenario);
  const answer = years === null ? askWeek(opened.year, plant, ask) : years.years[years.worst]!.answer;
  const shown: WeekShown = { scenarioName: opened.name, ask, answer, alone: aloneOf(answer), years };
  await tell(io, given, NAMES, {
    document: weekDocument(shown, madeFrom(opened)),
    json: weekJson(shown),
    tables: given.out ? [{ name: 'week.csv', text: hoursCsv(hoursTable(answer.ledger)) }] : [],
    notes: answer.year.notices.map(noticeText),
  });

  /** The same days from the same charge without the generator, where there is one: what bank and sun do alone. */
  function aloneOf({ generator, start, initial_soc, state, year: days }: WeekAnswer): WeekAnswer | null {
    if (!generator) return null;
    const { scenario } = days;
    const year =
      scenario === opened.year.scenario ? opened.year : prepareYear({ ...read, scenario }, file, texts);
    const asked = { ...ask, start, soc: initial_soc, generator: false };
    return askWeek(year, plant, asked, { state: { ...state, generator_on: false, ran_h: 0, fuel_L: 0 } });
  }
}
