import { type FoundPart, readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import { jsonText } from '../../render/document/json.ts';
import { paint } from '../../render/document/paint.ts';
import { partsText } from '../../render/help/parts.ts';

/** `longnight parts`: what there is to choose from. */
export function parts(files: readonly string[], options: { json: boolean }, io: Io): void {
  const found = readPartsOf(io.cwd, files);
  io.out(
    options.json
      ? jsonText('parts.json', { parts: found.map(plainPart) })
      : partsText(found, paint(io.colour)),
  );
}

const plainPart = ({ file, part: { name, kind, about, values, brings, source, path } }: FoundPart) => ({
  name,
  kind,
  about,
  file,
  line: source.valuePlace(path).line,
  values,
  brings: brings.charger === undefined && brings.tracker === undefined ? null : brings,
});
