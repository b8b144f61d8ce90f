import { type FoundPart, readPartsOf } from '../../files/parts.ts';
import type { Io } from '../../io.ts';
import { jsonText } from '../../render/document/json.ts';
import { partsDocument } from '../../render/help/parts.ts';
import { type Given, tell } from '../tell.ts';

/** `longnight parts`: what there is to choose from. */
export async function parts(files: readonly string[], given: Given, io: Io): Promise<void> {
  const found = readPartsOf(io.cwd, files);
  const json = jsonText('parts.json', { parts: found.map(plainPart) });
  await tell(io, given, [], { document: partsDocument(found), json });
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
