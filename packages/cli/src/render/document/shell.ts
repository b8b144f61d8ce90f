/** A text between the quotes that keep everything from a POSIX shell. */
export const quoted = (text: string): string => `'${text.replaceAll("'", "'\\''")}'`;

/** The name of a file as an argument: quoted where a shell would read it otherwise, and never taken for an option. */
export function fileWord(name: string): string {
  const plain = name.startsWith('-') ? `./${name}` : name;
  return /^[\p{L}\p{N}_@%+=:,./-]+$/u.test(plain) ? plain : quoted(plain);
}
