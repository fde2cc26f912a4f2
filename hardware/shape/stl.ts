import type { Mesh } from './mesh.ts';

const HEADER_BYTES = 80;
const TRIANGLE_BYTES = 50;

/**
 * @returns a mesh as binary STL (3D Systems, "StereoLithography Interface Specification", 1989; layout from memory):
 * 80 bytes, u32 count, then for each triangle normal and three corners (f32, mm) and a u16 of 0; little-endian.
 * Written here because a general serializer snaps the corners once more, which opens the closed mesh again.
 */
export function stlOf({ corners, triangles }: Mesh): Uint8Array {
  const count = triangles.length / 3;
  const bytes = new Uint8Array(HEADER_BYTES + 4 + TRIANGLE_BYTES * count);
  bytes.set(new TextEncoder().encode('Ebbline sleeve, millimeters'));
  const view = new DataView(bytes.buffer);
  view.setUint32(HEADER_BYTES, count, true);
  const corner = (index: number): [number, number, number] => [
    corners[3 * index]!,
    corners[3 * index + 1]!,
    corners[3 * index + 2]!,
  ];
  for (let t = 0; t < count; t++) {
    const [a, b, c] = [
      corner(triangles[3 * t]!),
      corner(triangles[3 * t + 1]!),
      corner(triangles[3 * t + 2]!),
    ];
    const u = [b[0] - a[0], b[1] - a[1], b[2] - a[2]] as const;
    const v = [c[0] - a[0], c[1] - a[1], c[2] - a[2]] as const;
    const n = [u[1] * v[2] - u[2] * v[1], u[2] * v[0] - u[0] * v[2], u[0] * v[1] - u[1] * v[0]];
    const size = Math.hypot(...n) || 1;
    [...n.map((value) => value / size), ...a, ...b, ...c].forEach((value, k) => {
      view.setFloat32(HEADER_BYTES + 4 + TRIANGLE_BYTES * t + 4 * k, value, true);
    });
  }
  return bytes;
}
