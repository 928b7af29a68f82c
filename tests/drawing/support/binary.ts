/** A text DXF as a binary one, by the public description of the format: sentinel, code, value by the code's type. */
export function binaryDxf(source: string, codeBytes: 1 | 2): Uint8Array {
  const lines = source.split("\n");
  const bytes: number[] = [...text("AutoCAD Binary DXF\r\n\u001a\0")];
  for (let i = 0; i + 1 < lines.length; i += 2) {
    const code = Number(lines[i]);
    const value = lines[i + 1] ?? "";
    bytes.push(code & 255, ...(codeBytes === 2 ? [code >> 8] : []));
    if (code >= 10 && code < 60) bytes.push(...double(Number(value)));
    else if (code >= 60 && code < 80) bytes.push(Number(value) & 255, (Number(value) >> 8) & 255);
    else if (code >= 90 && code < 100) bytes.push(Number(value) & 255, Number(value) >> 8, 0, 0);
    else if (code >= 210 && code < 240) bytes.push(...double(Number(value)));
    else bytes.push(...text(value), 0);
  }
  return Uint8Array.from(bytes);
}

function text(s: string): number[] {
  return [...s].map((c) => c.charCodeAt(0));
}

function double(v: number): number[] {
  const view = new DataView(new ArrayBuffer(8));
  view.setFloat64(0, v, true);
  return Array.from({ length: 8 }, (_, i) => view.getUint8(i));
}
