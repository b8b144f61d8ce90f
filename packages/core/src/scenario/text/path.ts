/** Steps from the root of a scenario to a value: keys and list positions; `*` is every item of a list. */
export type Path = readonly (string | number)[];

/** `['loads', 3, 'power_W']` as `loads[3].power_W`. */
export function pathText(path: Path): string {
  let text = '';
  for (const step of path) {
    if (typeof step === 'number' || step === '*') text += `[${step}]`;
    else text += text === '' ? step : `.${step}`;
  }
  return text;
}

/** `loads[3].power_W` as `['loads', 3, 'power_W']`. */
export function parsePath(text: string): Path {
  const path: (string | number)[] = [];
  for (const [, key, index] of text.matchAll(/([^.[\]]+)|\[(?:(\d+)|\*)\]/g)) {
    if (key !== undefined) path.push(key);
    else path.push(index === undefined ? '*' : Number(index));
  }
  return path;
}

/** The value at a path; undefined if none stands there. */
export function valueAt(data: unknown, path: Path): unknown {
  let value = data;
  for (const step of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, step)) return undefined;
    value = (value as Record<string | number, unknown>)[step];
  }
  return value;
}
