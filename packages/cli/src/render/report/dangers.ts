import type { Danger } from '@longnight/core';
import { FILES, type Section, textsOf } from '../document/document.ts';
import { A, C, digits, V } from '../document/figures.ts';
import { plain } from '../document/plain-text.ts';
import { said, type WordsFor } from '../document/said.ts';

const ARC = 'That can destroy it, and start a fire.';
const HEAT = 'It overheats, and can start a fire.';
const UNKNOWN = 'More than it stands can destroy it, and start a fire.';
const NOT_SAID = "and the file does not say what the tracker's input stands";

const some = (count: number | null, one: string, many: string): string =>
  count === null || count === 1 ? `one ${one}` : `${count} ${many}`;

type Found<Ids> = Danger & { readonly id: Ids };
const volts = ({ array, in_series, figure, air_C }: Found<'string_voltage' | 'voltage_limit_missing'>) =>
  `${array}: ${some(in_series, 'panel alone', 'panels in series')} can give ${V(figure)} at the record cold of ${C(air_C)}`;
const amps = ({ array, strings, figure }: Found<'string_current' | 'current_limit_missing'>) =>
  `${array}: ${some(strings, 'string', 'strings side by side')} can give ${A(figure)} in short circuit`;

/** What was found, what can come of it, what to do about it. */
const WORDS: WordsFor<Danger, readonly [found: string, consequence: string, remedy: string]> = {
  string_voltage: (it) => [
    `${volts(it)}, and the tracker's input stands ${V(it.limit!)}.`,
    ARC,
    'Hang fewer panels in series, or take a tracker whose input stands more.',
  ],
  string_current: (it) => [
    `${amps(it)} (1.25 times the panels' rating, for bright light), and the tracker's input stands ${A(it.limit!)}.`,
    ARC,
    'Put fewer strings on one input, or take a tracker whose input stands more.',
  ],
  voltage_limit_missing: (it) => [
    `${volts(it)}, ${NOT_SAID}.`,
    UNKNOWN,
    'Give max_input_V of its data sheet.',
  ],
  current_limit_missing: (it) => [
    `${amps(it)}, ${NOT_SAID}.`,
    UNKNOWN,
    'Give max_input_A of its data sheet, the short-circuit rating.',
  ],
  frost_charging: ({ coldest_C, allowed_C }) => [
    `The lithium bank gets down to ${C(coldest_C)} and may be charged down to ${allowed_C} °C, at all its amps.`,
    'Charging in frost plates lithium in the cells, which can short them and start a fire.',
    'Give the limit of the data sheet; if it does allow that, its amps by temperature as max_charge_A_at_temperature.',
  ],
  cable_current: ({ inverter_units, figure, limit, ...cable }) => [
    `The cable between bank and inverter${inverter_units === 1 ? '' : ', of each unit,'} can carry ${A(figure)} for hours, and ${sizeOf(cable.cables_parallel, cable.cable_size)} may be fused with ${A(limit!)} at most.`,
    HEAT,
    'Take a larger cable: check names one that carries it where the file names none.',
  ],
  shore_cable: ({ figure, limit }) => [
    `The socket gives ${A(figure)}, and the cable to it carries ${A(limit!)}.`,
    HEAT,
    'Take a cable and plugs for the amps of the socket, or a breaker of the amps of the cable.',
  ],
  diversion_load: ({ source, figure, limit }) => [
    `${source} makes up to ${digits(figure)} W, and its diversion load takes ${digits(limit!)} W.`,
    'With the bank full the rest makes it run away, which can destroy it and what hangs on it.',
    'Take a diversion load for all its power, or a brake that does without one.',
  ],
};

/** `2 × 50 mm²` */
export const sizeOf = (parallel: number, size: string): string =>
  parallel === 1 ? size : `${parallel} × ${size}`;

/** Over the dangers of a plant. */
const dangersTitle = (dangers: readonly Danger[]): string =>
  dangers.length === 1 ? 'Danger' : `${dangers.length} dangers`;

/** What was found. */
export const dangerFound = (danger: Danger): string => said(WORDS, danger)[0];

/** What was found, what can come of it, what to do. */
export const dangerSentence = (danger: Danger): string => said(WORDS, danger).join(' ');

/** What standard error says when a command ends with them, one line each. */
export const dangersText = (dangers: readonly Danger[]): string =>
  dangers.map((danger) => `danger: ${danger.path}: ${plain(dangerFound(danger))}`).join('\n');

/** What no model decides. */
export const WIRED_BY = 'Local code and a licensed electrician decide what is wired.';

/** The one line that every screen carries which recommends parts. */
const PARTS_CAUTION = `A model of a year: it chooses no cable, fuse or breaker and finds no plant free of danger. ${WIRED_BY}`;

/** What can destroy or burn, above all else; none where none was found. */
export const dangersSection = (dangers: readonly Danger[]): Section[] =>
  dangersNamed(dangersTitle(dangers), dangers.map(dangerSentence));

/** Sentences of dangers under their title. */
export const dangersNamed = (title: string, [first, ...others]: readonly string[]): Section[] =>
  first === undefined
    ? []
    : [{ id: 'dangers', title, sentence: first, tone: 'bad', blocks: textsOf(others) }];

/** The cautions of a plant, whole where there is room, in one line on a terminal. */
export const cautionSection = (cautions: readonly string[]): Section[] => [
  { id: 'caution', title: '', on: ['screen'], blocks: [{ kind: 'text', text: PARTS_CAUTION }] },
  wholeCautions(cautions),
];

/** The cautions of a plant, whole. */
export const wholeCautions = (cautions: readonly string[]): Section => ({
  id: 'cautions',
  title: 'Cautions',
  sentence: 'The figures above are a model; whoever wires a plant needs these as well.',
  on: FILES,
  blocks: [{ kind: 'list', items: cautions }],
});
