import { SWUNG, type Swayed, type SwungName } from '@longnight/core/study';
import { againSection, type ReadFrom } from '../document/again.ts';
import {
  type Answer,
  type Block,
  type ColumnOf,
  type Document,
  FILES,
  figures,
  present,
  type Section,
  tableOf,
} from '../document/document.ts';
import { figureText, titleOf, unitOf, wordsOf } from '../document/figure-words.ts';
import { listed, overWords, sentenceCase } from '../document/words.ts';
import { figure } from '../drawing/page-svg.ts';
import { type Swing, swingBars, swingsSaid } from '../drawing/swings.ts';
import { cautionSection, dangersNamed, dangersSection } from '../report/dangers.ts';
import {
  answerWords,
  dangerWords,
  guessName,
  nowWords,
  rangeText,
  type SwayShown,
  turnSentences,
  turnText,
  valueText,
} from './words.ts';

/** What `longnight sway` says: which guesses the answer hangs on, and how far off each may be. */
export function swayDocument(shown: SwayShown, name: string, from: ReadFrom): Document {
  const { sway, scenario, moves } = shown;
  const options = [
    ...moves.map((text) => `--move '${text}'`),
    ...sway.requirements.map(({ text }) => `--require '${text}'`),
  ];
  const danger = dangerWords(shown);
  return {
    title: `${scenario.site.name}: what the answer hangs on`,
    dangers: [
      ...dangersSection(sway.dangers),
      ...dangersNamed('A danger with it', danger === null ? [] : [danger]),
    ],
    about: [overWords(scenario)],
    sections: [
      {
        id: 'now',
        title: 'As it is described',
        label: 'Now',
        sentence: nowWords(shown),
        tone: sway.holds ? 'good' : 'bad',
        blocks: [],
      },
      turnSection(shown),
      ...swingSections(shown),
      guessSection(shown),
      whySection(shown),
      careSection(shown),
      ...cautionSection(sway.cautions),
      againSection(
        ['longnight sway', name, ...options, '--out DIR'].join(' '),
        from,
        'sway.json and sway.csv hold every guess with the figures of each of its values.',
      ),
    ],
    foot: `Made by Longnight ${from.version} from ${name}.`,
  };
}

function turnSection(shown: SwayShown): Section {
  const items = shown.sway.guesses.flatMap((guess) => turnSentences(shown, guess));
  return {
    id: 'turn',
    title: 'What turns the verdict',
    label: 'Turns it',
    sentence: answerWords(shown),
    blocks: items.length === 0 ? [] : [{ kind: 'list', items }],
  };
}

/** Figures that any guess moves. A plant that goes short gets down to its floor, one with a generator to where it starts. */
const moved = ({ sway }: SwayShown): readonly SwungName[] =>
  SWUNG.filter(
    (name) =>
      (name !== 'bank.lowest_soc' ||
        (sway.now['unmet.hours'] === 0 && sway.now['generator.run_hours'] === null)) &&
      sway.guesses.some(({ swing }) => (swing[name] ?? 0) > 1e-6),
  );

/** More than these are told in the table alone. */
const MOST_DRAWN = 12;

/** A drawing for each figure that is moved: whoever moves it most stands on top. */
function swingSections(shown: SwayShown): readonly Section[] {
  const { sway, scenario } = shown;
  return moved(shown).map((name, n): Section => {
    const by = sway.guesses
      .filter(({ swing }) => (swing[name] ?? 0) > 1e-6)
      .sort((a, b) => b.swing[name]! - a.swing[name]!)
      .slice(0, MOST_DRAWN);
    const swings = by.map(
      (guess): Swing => ({
        name: `${guessName(guess, scenario)}${guess.stated === false ? ', a default' : ''}`,
        ends: guess.plays.map(({ value, figures }) => ({
          words: valueText(guess, value, scenario),
          value: figures[name]!,
          figure: figureText(name, figures[name]!),
        })),
      }),
    );
    const title = sentenceCase(titleOf(name, sway.currency ?? ''));
    const today = { value: sway.now[name]!, figure: figureText(name, sway.now[name]!) };
    return {
      id: `swings-${n}`,
      title: `What moves it: ${titleOf(name, sway.currency ?? '')}`,
      on: ['page'],
      blocks: [
        {
          kind: 'drawing',
          draw: () => [
            figure(
              {
                id: `swings-${n}-chart`,
                title,
                description: `Today ${today.figure}. ${swingsSaid(swings)}`,
                caption: 'Each pair of bars is one guess moved on its own, all else as described.',
              },
              (room) => swingBars(swings, today, room),
            ),
          ],
        },
      ],
    };
  });
}

/** Most figures beside each other on a terminal. */
const MOST_BESIDE = 2;

const DEFAULT_MARK =
  'A star marks a default: the file does not state it, so nobody has thought about it yet.';

function guessSection(shown: SwayShown): Section {
  const { sway, scenario } = shown;
  const title = 'The guesses, most telling first';
  const names = moved(shown);
  const starred = (guess: Swayed): string =>
    `${guessName(guess, scenario)}${guess.stated === false ? ' *' : ''}`;
  const column = (name: SwungName): ColumnOf<Swayed> => [
    figures(wordsOf(name), unitOf(name, sway.currency ?? '')),
    ({ plays, is_range }) => {
      const told = plays.map(({ figures }) => {
        const value = figures[name];
        return value === null ? 'n/a' : figureText(name, value);
      });
      return is_range ? told.join(' to ') : told.join(', ');
    },
  ];
  const range: ColumnOf<Swayed> = [figures('moved'), (guess) => rangeText(guess, scenario)];
  const turns: ColumnOf<Swayed> = [figures('turns at'), (guess) => turnText(guess, scenario)];
  const blocks: Block[] = [
    {
      ...tableOf(title, sway.guesses, [
        ['guess', starred],
        range,
        ...names.slice(0, MOST_BESIDE).map(column),
        turns,
      ]),
      on: ['screen'],
    },
    {
      ...tableOf(title, sway.guesses, [
        ['guess', starred],
        [figures('today'), (guess) => valueText(guess, guess.today, scenario)],
        range,
        ...names.map(column),
        turns,
        [{ title: 'key', holds: 'code' }, ({ key }) => key],
      ]),
      on: FILES,
    },
    ...(sway.guesses.some(({ stated }) => stated === false)
      ? ([{ kind: 'text', text: DEFAULT_MARK }] as const)
      : []),
  ];
  return { id: 'guesses', title, blocks };
}

/** How far each was moved and looked at, and why so far. */
function whySection({ sway, scenario }: SwayShown): Section {
  const all = [...sway.guesses, ...sway.idle];
  return {
    id: 'why',
    title: 'Why so far',
    on: FILES,
    blocks: [
      tableOf('Ranges, what was looked at beyond them, and where they come from', all, [
        ['guess', (guess) => guessName(guess, scenario)],
        [figures('moved'), (guess) => rangeText(guess, scenario)],
        [
          figures('looked at'),
          (guess) =>
            guess.span === null ? '' : guess.span.map((end) => valueText(guess, end, scenario)).join(' to '),
        ],
        [{ title: 'why', holds: 'words' }, ({ why }) => why ?? 'as asked for'],
      ]),
    ],
  };
}

function careSection({ sway, scenario }: SwayShown): Section {
  const { idle, left_out } = sway;
  const answers = present<Answer>([
    idle.length > 0 && ['Move nothing', `${listed(idle.map((guess) => guessName(guess, scenario)))}.`],
    ...left_out.map(({ key, value, why }): Answer => ['Not played', `${key} at ${value}: ${why}.`]),
    [
      'Rests on',
      'one guess at a time, one year, and the models of `longnight run`. Two guesses that are each within their range may turn the verdict together. A verdict that turns and turns back between the values that were played is not seen.',
    ],
  ]);
  return { id: 'care', title: 'Read with care', blocks: [{ kind: 'answers', answers }] };
}
