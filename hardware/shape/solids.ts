/** Small words for solids in the sleeve's own axes, on top of @jscad/modeling. Lengths in mm, angles in degrees. */
import modeling from '@jscad/modeling';

const { primitives, transforms, extrusions, booleans } = modeling;

export type Solid = ReturnType<typeof primitives.cuboid>;
export type Outline = ReturnType<typeof primitives.circle>;
export type Point3 = readonly [number, number, number];
export type Range = readonly [from: number, to: number];

/** Sides of a large circle (its flats lie within 0.05 mm of it) and of a small one. */
const FINE = 64;
const COARSE = 20;

/** Radius of a hole whose flats, not its corners, leave `diameterMm` free. */
export const clear = (diameterMm: number): number => diameterMm / 2 / Math.cos(Math.PI / COARSE);

export const union = (...solids: Solid[]): Solid => booleans.union(solids);
/** Takes the tools away, all at once: several times as fast as one after another. */
export const cut = (solid: Solid, ...tools: Solid[]): Solid => booleans.subtract(solid, union(...tools));
export const common = (...solids: Solid[]): Solid => booleans.intersect(solids);

export const box = (x: Range, y: Range, z: Range): Solid =>
  primitives.cuboid({
    center: [(x[0] + x[1]) / 2, (y[0] + y[1]) / 2, (z[0] + z[1]) / 2],
    size: [x[1] - x[0], y[1] - y[0], z[1] - z[0]],
  });

/** A round bar along z about (x, y). */
export const rod = (radius: number, z: Range, at: readonly [number, number] = [0, 0]): Solid =>
  primitives.cylinder({
    radius,
    height: z[1] - z[0],
    center: [at[0], at[1], (z[0] + z[1]) / 2],
    segments: radius > 8 ? FINE : COARSE,
  });

export const tube = (inner: number, outer: number, z: Range): Solid =>
  turned([
    [inner, z[0]],
    [outer, z[0]],
    [outer, z[1]],
    [inner, z[1]],
  ]);

/** A curved wall: the part of a tube within `middle` ± `half` degrees from +x towards +y. */
export function curvedWall(
  radii: Range,
  middle: number,
  half: number,
  z: Range,
  at: readonly [number, number] = [0, 0],
): Solid {
  const steps = Math.max(2, Math.ceil((half * FINE) / 180));
  const arc = (radius: number): [number, number][] =>
    Array.from({ length: 2 * steps + 1 }, (_, i) => {
      const angle = ((middle + half * (i / steps - 1)) * Math.PI) / 180;
      return [at[0] + radius * Math.cos(angle), at[1] + radius * Math.sin(angle)];
    });
  return raised(primitives.polygon({ points: [...arc(radii[1]), ...arc(radii[0]).reverse()] }), z);
}

/** A round bar from one point to another. */
export function bar(radius: number, from: Point3, to: Point3): Solid {
  const [dx, dy, dz] = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const length = Math.hypot(dx, dy, dz);
  const alongZ = primitives.cylinder({
    radius,
    height: length,
    center: [0, 0, length / 2],
    segments: COARSE,
  });
  const turned = transforms.rotate([0, Math.acos(dz / length), Math.atan2(dy, dx)], alongZ);
  return transforms.translate([...from], turned);
}

/** The same, so much further along z. */
export const lifted = (solid: Solid, byMm: number): Solid => transforms.translate([0, 0, byMm], solid);

/** A slice of cake about an axis along z through (x, y): `middle` ± `half` degrees from +x towards +y. */
export function wedge(
  middle: number,
  half: number,
  radius: number,
  z: Range,
  at: readonly [number, number] = [0, 0],
): Solid {
  const steps = Math.max(2, Math.ceil(half / 10));
  const points: [number, number][] = [[at[0], at[1]]];
  for (let i = -steps; i <= steps; i++) {
    const angle = ((middle + (half * i) / steps) * Math.PI) / 180;
    points.push([at[0] + radius * Math.cos(angle), at[1] + radius * Math.sin(angle)]);
  }
  return raised(primitives.polygon({ points }), z);
}

/** An outline in x and y made solid between two z. */
export const raised = (outline: Outline, z: Range): Solid =>
  transforms.translate([0, 0, z[0]], extrusions.extrudeLinear({ height: z[1] - z[0] }, outline));

/** A profile of [radius, z] points turned about the z axis. */
export const turned = (profile: readonly (readonly [number, number])[]): Solid =>
  extrusions.extrudeRotate(
    { segments: FINE },
    primitives.polygon({ points: profile.map(([r, z]): [number, number] => [r, z]) }),
  );

export const circle = (radius: number, at: readonly [number, number]): Outline =>
  primitives.circle({ radius, center: [at[0], at[1]], segments: FINE });

export const joined = (...outlines: Outline[]): Outline => booleans.union(outlines);
export const less = (outline: Outline, ...tools: Outline[]): Outline => booleans.subtract(outline, ...tools);
