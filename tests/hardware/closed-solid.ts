/** Solids of meshes, by a library that has no part in making the meshes. */
import Module, { type Manifold } from 'manifold-3d';
import type { Mesh } from '../../hardware/shape/mesh.ts';

/** @returns makes a solid of a mesh; throws when the mesh is not closed and oriented */
export async function solidMaker(): Promise<(mesh: Mesh) => Manifold> {
  const manifold = await Module();
  manifold.setup();
  return ({ corners, triangles }) =>
    new manifold.Manifold(
      new manifold.Mesh({ numProp: 3, vertProperties: Float32Array.from(corners), triVerts: triangles }),
    );
}
