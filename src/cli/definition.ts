/** A command as data. Help, completion and the types of what a command is given are made from it. */

/** What an option or argument says of itself, and how its value is read. */
export interface Reading<T, IsAlways extends boolean = boolean> {
  about: string;
  /** @throws InvalidArgumentError */
  read?: (text: string, before?: T) => T;
  words?: readonly T[];
  /** What it is if nobody gives it. */
  otherwise?: T | undefined;
  isNeeded?: boolean;
  /** Key of an option that it cannot stand beside. */
  excludes?: string;
  /** Whether each call has a value. Never set: only its type is read. */
  isAlways?: IsAlways;
}

/**
 * By flags as the help shows them: "--out <file>", "--force"; an argument is "<feed>", "[feed]" or "<feed...>". Where a
 * text is enough, the value is a text, several texts, or true.
 */
export interface Flags {
  // biome-ignore lint/suspicious/noExplicitAny: of any type
  readonly [flags: `${'-' | '<' | '['}${string}`]: string | Reading<any>;
}

export interface Verb extends Flags {
  readonly about: string;
  /** Options shared with other commands, last in the help. */
  readonly also?: readonly Flags[];
  /** Meant when its noun stands alone. */
  readonly isDefault?: boolean;
  readonly isHidden?: boolean;
}

/** By path, such as "feeds list". */
export type Verbs = Readonly<Record<string, Verb>>;

type Camel<S> = S extends `${infer A}-${infer B}` ? `${A}${Capitalize<Camel<B>>}` : S;
type Bare<S> = S extends `${infer N}...` ? N : S;
type Key<F> = F extends `--no-${infer N}`
  ? Camel<N>
  : F extends `--${infer N} ${string}` | `--${infer N}`
    ? Camel<N extends `${infer M} ${string}` ? M : N>
    : F extends `<${infer N}>` | `[${infer N}]`
      ? Bare<N>
      : never;
type Value<F, R> =
  R extends Reading<infer T>
    ? T
    : F extends `${string}...${string}`
      ? string[]
      : F extends `--no-${string}`
        ? false
        : F extends `${string} [${string}`
          ? string | true
          : F extends `${string}<${string}` | `[${string}`
            ? string
            : boolean;
type Always<F, R> = F extends `<${string}` ? F : R extends { isAlways?: true } ? F : never;
type OfFlags<D> = {
  [F in keyof D as Key<Always<F, D[F]>>]: Value<F, D[F]>;
} & { [F in keyof D as Key<Exclude<F, Always<F, D[F]>>>]?: Value<F, D[F]> };
type All<U> = (U extends unknown ? (one: U) => void : never) extends (all: infer I) => void ? I : never;

/** What a verb is given: arguments and options by their names, as commander names options. */
export type Given<V extends Verb> = OfFlags<V> &
  (V extends { also: readonly (infer S)[] } ? All<S extends unknown ? OfFlags<S> : never> : unknown);

/** What each verb does. */
export type Runs<V extends Verbs> = { readonly [P in keyof V]: (given: Given<V[P]>) => unknown };

/** Commands, and what they do, which is loaded when one of them is called. */
export interface Part<V extends Verbs> {
  /** What a noun says of itself, by its path. */
  nouns?: Readonly<Record<string, string>>;
  verbs: V;
  load(): Promise<{ runs: Runs<V> }>;
}
