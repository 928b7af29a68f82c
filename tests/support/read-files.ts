/** Files in memory, read as a job reads those beside it. */
export function readFrom(
  files: ReadonlyMap<string, string>,
): (name: string) => Uint8Array | undefined {
  return (name) => {
    const text = files.get(name);
    return text === undefined ? undefined : new TextEncoder().encode(text);
  };
}
