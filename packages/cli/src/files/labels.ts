/**
 * Short names for files: without folder and ending where that tells them apart, with as many folders as it takes where
 * it doesn't. The same file twice keeps one name.
 */
export function labelsOf(files: readonly string[]): readonly string[] {
  const steps = files.map((file) => file.replace(/\.[^./\\]*$/, '').split(/[\\/]/));
  const tail = (k: number, length: number): string => steps[k]!.slice(-length).join('/');
  return files.map((_, k) => {
    for (let length = 1; length < steps[k]!.length; length++) {
      if (files.every((_, other) => other === k || tail(other, length) !== tail(k, length)))
        return tail(k, length);
    }
    return tail(k, steps[k]!.length);
  });
}
/** Plants by their names: that of the site where it tells them apart, else what the files are called, without its signs. */
export function plantNames(files: readonly string[], sites: readonly string[]): readonly string[] {
  if (new Set(sites).size === sites.length) return sites;
  const spoken = labelsOf(files).map((label) => label.replaceAll(/[-_]+/g, ' ').trim());
  return new Set(spoken).size === new Set(files).size ? spoken : labelsOf(files);
}
