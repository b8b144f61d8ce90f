import { type Notice, notice } from '../basis/notices.ts';
import type { Clock } from '../clock/clock.ts';
import { wallClock } from '../clock/wall.ts';
import { DAY_min, parseWindow } from '../clock/window.ts';
import { type Timetable, windowShare } from '../clock/windows.ts';
import { STEPS_min } from '../scenario/schema/run.ts';

/** What becomes of a step that lies in a window in part: it is lost to it whole, or taken whole. */
type PartStep = 'lost' | 'taken';

/** A part of a step smaller than this is rounding. */
const NOTHING_share = 1e-9;

/** A notice for windows that can only be played by whole steps and do not lie on them. */
export function partStepNotices(path: string, timetable: Timetable, clock: Clock, part: PartStep): Notice[] {
  const share = windowShare(timetable, wallClock(clock));
  const days = new Set<number>();
  let hours = 0;
  let count = 0;
  for (let i = 0; i < clock.steps; i++) {
    const inside = share[i]!;
    if (inside < NOTHING_share || inside > 1 - NOTHING_share) continue;
    hours += clock.step_h * (part === 'lost' ? inside : 1 - inside);
    days.add(clock.day[i]!);
    count++;
  }
  if (count === 0) return [];
  const named = timetable.windows.join(', ');
  const a_day = Number((hours / days.size).toFixed(2));
  const year = Number(hours.toFixed(1)).toLocaleString('en');
  const what =
    part === 'lost'
      ? `${a_day} h a day of ${named} are not played (${year} h in the year): a step counts only if it lies wholly within`
      : `${a_day} h a day beside ${named} are barred too (${year} h in the year): a step that touches a window is barred whole`;
  return [
    notice(`window-part-steps-${part}`, count)`${path}: at steps of ${clock.step_min} min ${what};
      ${finerStep(timetable, clock)}`,
  ];
}

/** The longest step that has an edge at both ends of every window all year, in words. */
function finerStep({ windows }: Timetable, clock: Clock): string {
  const edges = windows.map(parseWindow).flatMap(({ start_min, end_min }) => [start_min, end_min % DAY_min]);
  // Steps begin at local midnight; where clocks move by less than a step they stand beside it from then on.
  const moves = [...new Set(clock.offset_min)].map((offset) => offset - clock.offset_min[0]!);
  const fits = (step_min: number): boolean =>
    edges.every((edge) => moves.every((move) => Number.isInteger((edge - move) / step_min)));
  const exact = STEPS_min.filter((step_min) => step_min < clock.step_min).find(fits);
  if (exact !== undefined) return `run.step_min: ${exact} plays it as written`;
  const finest = Math.min(...STEPS_min);
  const closest = clock.step_min > finest ? `: run.step_min: ${finest} comes closest, or ` : ': ';
  return `no step plays it as written${closest}move its ends to the clock's steps`;
}
