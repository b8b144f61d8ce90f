import { askWeek, plantOf, prepareYear, type WeekAnswer, type WeekAsk } from '@longnight/core';
import { askEveryYear } from '@longnight/core/study';
import manifest from '../../../package.json' with { type: 'json' };
import { openScenario } from '../../files/scenario.ts';
import { checkOutputs, writeOutputs } from '../../files/write.ts';
import type { Io } from '../../io.ts';
import { paint } from '../../render/document/paint.ts';
import { plain } from '../../render/document/plain-text.ts';
import { toScreen } from '../../render/document/to-screen.ts';
import { hoursCsv } from '../../render/tables/hours-csv.ts';
import { hoursTable } from '../../render/tables/hours-table.ts';
import type { WeekShown } from '../../render/week/answers.ts';
import { weekDocument } from '../../render/week/document.ts';
import { weekJson } from '../../render/week/json.ts';

const OUTPUT_NAMES = ['week.md', 'week.json', 'week.csv', 'week.html'];

interface WeekOptions {
  readonly ask: WeekAsk;
  /** Ask each year of the weather file. */
  readonly everyYear: boolean;
  /** Folder for the outputs; null writes none. */
  readonly out: string | null;
  readonly json: boolean;
}

/** `longnight week`: a stretch of days on its own. */
export async function lean(file: string, options: WeekOptions, io: Io): Promise<void> {
  const { ask, out } = options;
  const opened = openScenario(io.cwd, file);
  if (out !== null) checkOutputs(io.cwd, out, OUTPUT_NAMES, opened.paths);

  const { read, texts } = opened.files;
  const years = options.everyYear ? askEveryYear(read, file, texts, ask) : null;
  const plant = plantOf(opened.year.scenario);
  const answer = years === null ? askWeek(opened.year, plant, ask) : years.years[years.worst]!.answer;
  const shown: WeekShown = { scenarioName: opened.name, ask, answer, alone: aloneOf(answer), years };

  const json = weekJson(shown);
  const document = weekDocument(shown, { version: manifest.version, read: opened.read });
  if (out !== null) {
    const { toMarkdown } = await import('../../render/document/to-markdown.ts');
    const { toPage } = await import('../../render/document/to-page.ts');
    writeOutputs(io.cwd, out, [
      { name: 'week.md', text: toMarkdown(document) },
      { name: 'week.json', text: json },
      { name: 'week.csv', text: hoursCsv(hoursTable(answer.ledger)) },
      { name: 'week.html', text: toPage(document) },
    ]);
  }
  const written = out === null ? null : { folder: out, names: OUTPUT_NAMES };
  io.out(options.json ? json : toScreen(document, written, paint(io.colour)));
  for (const notice of answer.year.notices) io.err(`note: ${plain(notice.message)}\n`);

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
