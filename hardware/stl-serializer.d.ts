declare module '@jscad/stl-serializer' {
  /** Chunks of an STL file, one after another. */
  export function serialize(options: { binary: true }, ...solids: unknown[]): ArrayBuffer[];
}
