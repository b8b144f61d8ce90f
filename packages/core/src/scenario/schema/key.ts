import * as z from 'zod';
import { atBar } from '../../basis/bar.ts';
import type { Moves } from '../../basis/notices.ts';

/**
 * What is said of a key of the files, said here once: JSON Schema, `explain`, the comments of the starter file and the
 * reference page are made from it. What a key takes stands in its schema, and its name carries its unit.
 */
export interface KeyText {
  /** Without a full stop. What stands before the first semicolon is enough where there is little room. */
  readonly meaning: string;
  /** Why its default is what it is: the report says it too. */
  readonly why?: string;
  /** What holds where a key without a default is left out; absent where that is plain from the meaning. */
  readonly without?: string;
  /** What its default could change. */
  readonly moves?: Moves;
}

/** The texts by the schema of their key. Nothing of them is looked up while a scenario is read. */
export const KEY_TEXTS = z.registry<KeyText>();

/**
 * Takes the text that stands behind a key's check: its meaning, and behind a bar why its default is what it is, or what
 * holds without it. It may run over lines.
 */
type Said<S> = (text: TemplateStringsArray, ...terms: readonly string[]) => S;

const said =
  <S extends z.ZodType>(schema: S, moves?: Moves): Said<S> =>
  (text, ...terms) => {
    const [meaning, reason] = atBar(text, terms);
    if (moves !== undefined) KEY_TEXTS.add(schema, { meaning, why: reason ?? '', moves });
    else KEY_TEXTS.add(schema, reason === undefined ? { meaning } : { meaning, without: reason });
    return schema;
  };

/** A key that must be given. */
export const key = <S extends z.ZodType>(schema: S) => said(schema);

/** A key that may be left out. */
export const optional = <S extends z.ZodType>(schema: S) => said(schema.optional());

const withDefault =
  (moves: Moves) =>
  <S extends z.ZodType, D extends z.util.NoUndefined<z.output<S>>>(schema: S, value: D) =>
    said(schema.default(value as never), moves);

/** A key with a default, which the report lists with its reason. */
export const assumed = withDefault('verdict');
/** The same, by what the default could change beside or instead of the verdict (`Moves`). */
export const crucial = withDefault('verdict_most');
export const ofRunHours = withDefault('run_hours');
export const ofMoney = withDefault('money');
export const ofFigures = withDefault('figures');
export const leftOut = withDefault('nothing');

/** The key that chooses one of several kinds, with what that kind is. */
export const kind = <K extends string>(value: K) => said(z.literal(value));

export const between = (least: number, most: number) => z.number().min(least).max(most);
export const whole = (least: number, most: number) => z.int().min(least).max(most);
/** A thousandth of any unit is less than parts are sold by, and enough that nothing divided by it grows without bound. */
export const positive = (most: number) => between(0.001, most);
/** Of anything that has a voltage to speak of: amps are worked out by it. */
export const volts = (most = 1000) => between(1, most);
/** A plant of 100 MW is none that one person sizes. */
export const rating_kW = () => positive(100_000);
export const amps = () => positive(100_000);
export const share = () => between(0, 1);
export const seed = () => whole(0, 4_294_967_295);
export const money = () => between(0, 1e9);
export const text = () => z.string().trim().min(1).max(200);
export const twelve = <S extends z.ZodType>(each: S) => z.array(each).length(12);
export const byMonth = (each: z.ZodNumber) => z.union([each, twelve(each)]);
export const list = <S extends z.ZodType>(each: S, least: number, most: number) =>
  z.array(each).min(least).max(most);
