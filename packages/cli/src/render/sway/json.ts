import { headJson, jsonText } from '../document/json.ts';
import type { SwayShown } from './words.ts';

/** sway.json: every guess with every figure of its plays. */
export function swayJson({ sway, scenario }: SwayShown): string {
  const { requirements, guesses, idle, ...rest } = sway;
  const told = ({ least: _, most: __, beside, ...guess }: (typeof guesses)[number]) => ({
    ...guess,
    ...(Object.keys(beside).length > 0 ? { beside } : {}),
  });
  return jsonText('sway.json', {
    ...headJson(scenario),
    requirements: requirements.map(({ text }) => text),
    ...rest,
    guesses: guesses.map(told),
    move_nothing: idle.map(told),
  });
}
