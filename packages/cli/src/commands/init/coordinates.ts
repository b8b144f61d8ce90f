/** Places and heights as people write them. A string that comes back says what is wrong. */

export interface Place {
  readonly latitude_deg: number;
  readonly longitude_deg: number;
}

const SIZE =
  '([+-]?\\d+(?:\\.\\d+)?)\\s*[°º]?\\s*' +
  '(?:(\\d+(?:\\.\\d+)?)\\s*[\'′’]\\s*)?(?:(\\d+(?:\\.\\d+)?)\\s*["″”]\\s*)?';
const BETWEEN = '(?:\\s*[,;]\\s*|\\s+|(?<=[NSEW]))';
/** Letters before both figures, or behind both, or none. */
const [BEFORE, BEHIND] = ['([NSEW])\\s*', '([NSEW])?\\s*'];
const LED = new RegExp(`^\\s*${BEFORE}${SIZE}${BETWEEN}${BEFORE}${SIZE}\\s*$`, 'i');
const ENDED = new RegExp(`^\\s*${SIZE}${BEHIND}${BETWEEN}${SIZE}${BEHIND}$`, 'i');
const FORMS = `write 44.5,-71.3 (north and east positive), "44.5N 71.3W" or "44°30'N 71°18'W"`;

/** Latitude and longitude out of one text. */
export function readPlace(text: string): Place | string {
  // Half of the world writes 61,3; with two such commas the pair is told apart by something else.
  const decimals = text.match(/\d,\d/g)?.length === 2 ? text.replace(/(\d),(\d)/g, '$1.$2') : text;
  const led = LED.exec(decimals)?.slice(1);
  const ended = ENDED.exec(decimals)?.slice(1);
  const found = led ?? (ended && [ended[3], ...ended.slice(0, 3), ended[7], ...ended.slice(4, 7)]);
  if (found === undefined) return `"${text}" is no pair of latitude and longitude; ${FORMS}`;
  const [first, second] = [angle(found.slice(0, 4)), angle(found.slice(4))];
  if (first === null || second === null)
    return `"${text}" has a sign and a letter, or minutes of 60; ${FORMS}`;
  const turned = /[EW]/i.test(first.side);
  const [north, east] = turned ? [second, first] : [first, second];
  if ((first.side === '') !== (second.side === '') || /[EW]/i.test(north.side) || /[NS]/i.test(east.side))
    return `"${text}" does not say which is north and which is east; ${FORMS}`;
  if (Math.abs(north.value) > 90)
    return `${north.value} is no latitude, which ends at 90${Math.abs(east.value) <= 90 ? ': is it the longitude? Latitude comes first' : ''}; ${FORMS}`;
  if (Math.abs(east.value) > 180) return `${east.value} is no longitude, which ends at 180; ${FORMS}`;
  return { latitude_deg: north.value, longitude_deg: east.value };
}

function angle([side = '', degrees = '', minutes = '0', seconds = '0']: readonly (string | undefined)[]) {
  if (side !== '' && /^[+-]/.test(degrees)) return null;
  if (Number(minutes) >= 60 || Number(seconds) >= 60) return null;
  const size = Math.abs(Number(degrees)) + Number(minutes) / 60 + Number(seconds) / 3600;
  const isBack = degrees.startsWith('-') || /[SW]/i.test(side);
  return { side, value: (Math.round(1e4 * size) / 1e4) * (isBack ? -1 : 1) };
}

/** `44.5 N, 71.3 W`: a name for a place without one. */
export const placeName = ({ latitude_deg, longitude_deg }: Place): string =>
  `${Math.abs(latitude_deg)} ${latitude_deg < 0 ? 'S' : 'N'}, ${Math.abs(longitude_deg)} ${longitude_deg < 0 ? 'W' : 'E'}`;

const FOOT_m = 0.3048;

/** Metres above the sea, from metres or feet. */
export function readHeight_m(text: string): number | string {
  const [, digits, unit] = /^\s*([+-]?\d+(?:\.\d+)?)\s*(m|ft|feet|′|')?\s*$/i.exec(text) ?? [];
  if (digits === undefined) return `"${text}" is no height; write metres as 366, or feet as 1200ft`;
  const isFeet = unit !== undefined && unit.toLowerCase() !== 'm';
  return isFeet ? Math.round(Number(digits) * FOOT_m) : Number(digits);
}
