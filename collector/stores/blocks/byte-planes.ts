/**
 * Numbers of several bytes each, turned so that all their first (lowest) bytes come first, then all their second ones: the high bytes of
 * neighbouring readings are alike, and alike bytes side by side compress.
 * Worked example: 0x0102, 0x0103 as bytes 02 01 03 01 → 02 03 01 01.
 */
export const toPlanes = (bytes: Uint8Array, width: number): Uint8Array => turn(bytes, bytes.length / width, width, false);

export const fromPlanes = (planes: Uint8Array, width: number): Uint8Array => turn(planes, planes.length / width, width, true);

const turn = (bytes: Uint8Array, count: number, width: number, back: boolean): Uint8Array => {
  const turned = new Uint8Array(bytes.length);
  for (let plane = 0; plane < width; plane += 1) {
    const start = plane * count;
    for (let index = 0; index < count; index += 1) {
      const inNumber = index * width + plane;
      const inPlane = start + index;
      turned[back ? inNumber : inPlane] = bytes[back ? inPlane : inNumber] ?? 0;
    }
  }
  return turned;
};
